// epicotyl: the errors of the library and what they carry.
//
// There are two families under one base. `invalid_input` says that something a caller or a file
// gave cannot be used; it names the thing, the value, the bound with its unit, and what to do.
// `unresolved` says that a plan has no answer and carries the reasons; it is thrown only on
// request (`calendar::require`), because a grower's ordinary trouble ("never ready", "no frost
// here", "no window") is a result, not an exception.
//
// Every message exists twice: as a sentence for a person (`what()`), and as a stable code with
// named arguments for a program that translates it or acts on it. Codes are lower-case words with
// dots, for example "chance.out_of_range"; they do not change within a major version.
//
//     try {
//         epicotyl::chance{1.5};
//     } catch (epicotyl::invalid_input const& e) {
//         e.code();            // "chance.out_of_range"
//         e.details().value;   // "1.5"
//         e.what();            // "chance: 1.5 is out of range (allowed: 0 to 1); ..."
//     }
#ifndef EPICOTYL_ERROR_HPP
#define EPICOTYL_ERROR_HPP

#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

namespace epicotyl {

/// Base of every exception that epicotyl throws on purpose.
class error : public std::runtime_error {
public:
    error(std::string code, std::string const& sentence)
        : std::runtime_error{sentence}, code_{std::move(code)} {}

    /// Stable code of the message, for example "chance.out_of_range".
    [[nodiscard]] std::string const& code() const noexcept { return code_; }

private:
    std::string code_;
};

/// What is wrong with an input, in parts. Empty strings and line 0 mean "not known" or "does not
/// apply"; `problem` is always given.
struct input_fault {
    std::string code = {};     ///< stable code, "chance.out_of_range"
    std::string file = {};     ///< path as the caller gave it
    int line = 0;              ///< 1-based line in `file`, 0 when there is none
    std::string field = {};    ///< the thing, "succession[2].target.risk"
    std::string value = {};    ///< the value as written
    std::string bound = {};    ///< what is allowed, "0 to 1"
    std::string unit = {};     ///< unit of value and bound
    std::string problem = {};  ///< "1.5 is out of range"
    std::string remedy = {};   ///< what to do, "give a share of years such as 0.1"

    friend bool operator==(input_fault const&, input_fault const&) = default;
};

/// The sentence of a fault: "FILE:LINE: FIELD: PROBLEM (allowed: BOUND UNIT); REMEDY".
[[nodiscard]] inline std::string to_string(input_fault const& fault) {
    std::string text;
    if (!fault.file.empty()) {
        text += fault.file;
        if (fault.line > 0) { text += ':' + std::to_string(fault.line); }
        text += ": ";
    } else if (fault.line > 0) {
        text += "line " + std::to_string(fault.line) + ": ";
    }
    if (!fault.field.empty()) { text += fault.field + ": "; }
    text += fault.problem;
    if (!fault.bound.empty()) {
        text += " (allowed: " + fault.bound;
        if (!fault.unit.empty()) { text += ' ' + fault.unit; }
        text += ')';
    }
    if (!fault.remedy.empty()) { text += "; " + fault.remedy; }
    return text;
}

/// Something a caller or a file gave cannot be used.
class invalid_input : public error {
public:
    explicit invalid_input(input_fault fault)
        : error{fault.code, to_string(fault)}, fault_{std::move(fault)} {}

    /// The parts of the message.
    [[nodiscard]] input_fault const& details() const noexcept { return fault_; }

    /// The same fault, said of another field: a strong type knows only "chance", its caller knows
    /// that it is "succession[2].target.risk".
    [[nodiscard]] invalid_input in_field(std::string field) const {
        input_fault fault = fault_;
        fault.field = std::move(field);
        return invalid_input{std::move(fault)};
    }

    /// The same fault with the place in a file where it stands.
    [[nodiscard]] invalid_input in_file(std::string file, int line) const {
        input_fault fault = fault_;
        fault.file = std::move(file);
        fault.line = line;
        return invalid_input{std::move(fault)};
    }

private:
    input_fault fault_;
};

/// One thing that stands in the way of an answer: who, a code, and a sentence.
struct obstacle {
    std::string succession = {};  ///< name of the succession, empty when the whole plan is meant
    std::string code = {};        ///< "sow.no_day_good_enough"
    std::string sentence = {};    ///< what stands in the way
    std::string cure = {};        ///< the nearest change that would help, may be empty

    friend bool operator==(obstacle const&, obstacle const&) = default;
};

/// A plan, or a part of it, has no answer. Carries every reason.
class unresolved : public error {
public:
    explicit unresolved(std::vector<obstacle> obstacles)
        : error{"plan.unresolved", sentence_of(obstacles)}, obstacles_{std::move(obstacles)} {}

    [[nodiscard]] std::vector<obstacle> const& obstacles() const noexcept { return obstacles_; }

private:
    static std::string sentence_of(std::vector<obstacle> const& obstacles) {
        std::string text;
        for (obstacle const& one : obstacles) {
            if (!text.empty()) { text += '\n'; }
            if (!one.succession.empty()) { text += one.succession + ": "; }
            text += one.sentence;
            if (!one.cure.empty()) { text += "; " + one.cure; }
        }
        return text.empty() ? "the plan has no answer" : text;
    }

    std::vector<obstacle> obstacles_;
};

}  // namespace epicotyl

#endif
