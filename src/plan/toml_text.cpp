#include "toml_text.hpp"

#include <algorithm>
#include <cstdint>
#include <optional>

#include <fmt/format.h>

#include <epicotyl/error.hpp>

namespace epicotyl::detail {

namespace {

struct utf8_letter {
    std::uint32_t code_point;
    std::size_t bytes;
};

/// The letter beyond ASCII that begins at `text[at]`; none where the bytes are no UTF-8 (RFC 3629,
/// section 4: neither the longer of two spellings nor half of a UTF-16 pair).
std::optional<utf8_letter> letter_beyond_ascii(std::string_view text, std::size_t at) {
    auto const byte = [&](std::size_t i) {
        return static_cast<std::uint32_t>(static_cast<unsigned char>(text[i]));
    };
    std::uint32_t const first = byte(at);
    if (first < 0xC2U || first > 0xF4U) { return std::nullopt; }
    std::size_t const length = first >= 0xF0U ? 4 : first >= 0xE0U ? 3 : 2;
    if (at + length > text.size()) { return std::nullopt; }
    std::uint32_t code_point = first & (0x7FU >> length);
    for (std::size_t i = at + 1; i < at + length; ++i) {
        if ((byte(i) & 0xC0U) != 0x80U) { return std::nullopt; }
        code_point = code_point << 6U | (byte(i) & 0x3FU);
    }
    std::uint32_t const least = length == 4 ? 0x10000U : length == 3 ? 0x800U : 0x80U;
    bool const is_half = code_point >= 0xD800U && code_point <= 0xDFFFU;
    if (code_point < least || code_point > 0x10FFFFU || is_half) { return std::nullopt; }
    return utf8_letter{code_point, length};
}

bool is_beyond_ascii(char c) {
    return (static_cast<unsigned char>(c) & 0x80U) != 0;
}

/// A plan needs six: succession.stage.transplant.takes.gate.otherwise.
constexpr std::size_t most_parts = 8;

class ascii_writer {
public:
    ascii_writer(std::string_view text, std::string const& file_name)
        : text_{text}, file_{file_name} {}

    [[nodiscard]] std::string write() {
        if (text_.starts_with("\xEF\xBB\xBF")) { at_ = 3; }  // a byte order mark says nothing
        while (at_ < text_.size()) {
            char const c = text_[at_];
            if (c == '#') {
                write_comment();
            } else if (c == '"' || c == '\'') {
                write_quoted();
            } else if (is_beyond_ascii(c)) {
                refuse_bare();
            } else {
                count_dots(c);
                copy_until(at_ + 1);
            }
        }
        return std::move(written_);
    }

private:
    void copy_until(std::size_t end) {
        written_ += text_.substr(at_, end - at_);
        at_ = end;
    }

    /// Every part of a key is a table in the one before, and toml++ goes into each by a call.
    void count_dots(char c) {
        if (c == '.') {
            if (++dots_ < most_parts) { return; }
            refuse(at_, fmt::format("more than {} parts", most_parts),
                   fmt::format("a key of more than {} parts that are joined by dots", most_parts),
                   "write [name] above it for the table that it stands in",
                   fmt::format("up to {}", most_parts), "parts");
        }
        if (std::string_view{"\n=,[]{}"}.find(c) != std::string_view::npos) { dots_ = 0; }
    }

    void write_comment() {
        std::size_t const end = std::min(text_.find('\n', at_), text_.size());
        while (at_ < end) {
            auto const letter = letter_beyond_ascii(text_, at_);
            if (letter) {
                written_ += '?';
                at_ += letter->bytes;
            } else {
                copy_until(at_ + 1);
            }
        }
    }

    void write_quoted() {
        char const quote = text_[at_];
        std::size_t const marks = text_.substr(at_).starts_with(std::string(3, quote)) ? 3 : 1;
        std::size_t const end = end_of_quoted(quote, marks);
        std::string_view const whole = text_.substr(at_, end - at_);
        if (std::none_of(whole.begin(), whole.end(), is_beyond_ascii)) {
            copy_until(end);
            return;
        }
        written_.append(marks, '"');
        at_ += marks;
        while (at_ < end - marks) {
            if (is_beyond_ascii(text_[at_])) {
                write_letter();
            } else if (quote == '\'') {
                if (text_[at_] == '\\' || text_[at_] == '"') { written_ += '\\'; }
                copy_until(at_ + 1);
            } else if (text_[at_] == '\\') {
                if (is_beyond_ascii(text_[at_ + 1])) { refuse_escaped(); }
                copy_until(at_ + 2);
            } else {
                copy_until(at_ + 1);
            }
        }
        written_.append(marks, '"');
        at_ = end;
    }

    /// One past the last of the marks that close the quotes at `at_`.
    [[nodiscard]] std::size_t end_of_quoted(char quote, std::size_t marks) const {
        std::string const closing(marks, quote);
        for (std::size_t i = at_ + marks; i < text_.size(); ++i) {
            if (quote == '"' && text_[i] == '\\') {
                ++i;
            } else if (marks == 1 && text_[i] == '\n') {
                break;
            } else if (text_.substr(i).starts_with(closing)) {
                std::size_t end = i + marks;
                // Up to two quotes of the text itself may stand before the three that close it.
                while (marks == 3 && end < text_.size() && end < i + 5 && text_[end] == quote) {
                    ++end;
                }
                return end;
            }
        }
        refuse(at_, std::string(marks, quote), "a text in quotes is not closed",
               fmt::format("end it with {}", closing));
    }

    void write_letter() {
        if (auto const letter = letter_beyond_ascii(text_, at_)) {
            written_ += letter->code_point > 0xFFFFU ? fmt::format("\\U{:08X}", letter->code_point)
                                                     : fmt::format("\\u{:04X}", letter->code_point);
            at_ += letter->bytes;
        } else {
            copy_until(at_ + 1);
        }
    }

    /// As a message can show it: in quotes, or, where it is no UTF-8, its first byte as a number.
    [[nodiscard]] std::string letter_at(std::size_t at) const {
        auto const letter = letter_beyond_ascii(text_, at);
        return letter ? fmt::format("\"{}\"", text_.substr(at, letter->bytes))
                      : fmt::format("byte 0x{:02X}", static_cast<unsigned char>(text_[at]));
    }

    [[noreturn]] void refuse_bare() const {
        std::string const letter = letter_at(at_);
        refuse(at_, letter,
               letter + " stands outside of quotes, where TOML knows no letters but a to z",
               "put the whole name into double quotes, or take out a stray character");
    }

    [[noreturn]] void refuse_escaped() const {
        std::string const letter = letter_at(at_ + 1);
        refuse(at_, letter, "a backslash stands before " + letter + ", which needs none",
               "take the backslash out, or write two for one of the text");
    }

    [[noreturn]] void refuse(std::size_t at, std::string value, std::string problem,
                             std::string remedy, std::string bound = {},
                             std::string unit = {}) const {
        auto const before = text_.substr(0, at);
        throw invalid_input{
            {.code = "toml.syntax",
             .file = file_,
             .line = 1 + static_cast<int>(std::count(before.begin(), before.end(), '\n')),
             .value = std::move(value),
             .bound = std::move(bound),
             .unit = std::move(unit),
             .problem = std::move(problem),
             .remedy = std::move(remedy)}};
    }

    std::string_view text_;
    std::string const& file_;
    std::size_t at_ = 0;
    std::size_t dots_ = 0;  ///< of the key at `at_`
    std::string written_;
};

}  // namespace

std::string toml_in_ascii(std::string_view text, std::string const& file_name) {
    return ascii_writer{text, file_name}.write();
}

}  // namespace epicotyl::detail
