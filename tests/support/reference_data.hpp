// Published data files that stand outside the repository. The environment variable
// EPICOTYL_REFERENCE_DATA names their folder; tables to check against stand in the folder "checks"
// beside it. Without the variable a test says that it was skipped, and passes.
#ifndef EPICOTYL_TESTS_REFERENCE_DATA_HPP
#define EPICOTYL_TESTS_REFERENCE_DATA_HPP

#include <array>
#include <cstddef>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <stdexcept>
#include <string>
#include <vector>

#include "catch.hpp"

namespace reference {

/// True, with a line in the test's output, when there is no folder of data.
[[nodiscard]] inline bool is_missing() {
    char const* const folder = std::getenv("EPICOTYL_REFERENCE_DATA");
    if (folder != nullptr && *folder != '\0') { return false; }
    WARN("skipped: EPICOTYL_REFERENCE_DATA does not name a folder");
    return true;
}

/// A data file. Call only when not `is_missing()`.
[[nodiscard]] inline std::filesystem::path data_file(std::string const& name) {
    return std::filesystem::path{std::getenv("EPICOTYL_REFERENCE_DATA")} / name;
}

/// A table to check against. Call only when not `is_missing()`.
[[nodiscard]] inline std::filesystem::path check_file(std::string const& name) {
    return data_file("").parent_path() / ".." / "checks" / name;
}

/// The text of a gzip-compressed file, unpacked by the program gzip.
[[nodiscard]] inline std::string unpacked(std::filesystem::path const& path) {
    std::string const quoted = "'" + path.string() + "'";
    std::FILE* const pipe = popen(("gzip -dc " + quoted).c_str(), "r");
    if (pipe == nullptr) { throw std::runtime_error{"gzip does not start"}; }
    std::string text;
    std::array<char, 1 << 16> buffer;
    for (std::size_t read = 1; read > 0;) {
        read = std::fread(buffer.data(), 1, buffer.size(), pipe);
        text.append(buffer.data(), read);
    }
    if (pclose(pipe) != 0) { throw std::runtime_error{"cannot unpack " + path.string()}; }
    return text;
}

/// Cells of a comma-separated table whose cells hold no commas or quotes; the header is row 0.
[[nodiscard]] inline std::vector<std::vector<std::string>> rows_of(
    std::filesystem::path const& path) {
    std::ifstream stream{path};
    if (!stream) { throw std::runtime_error{"cannot read " + path.string()}; }
    std::vector<std::vector<std::string>> rows;
    for (std::string line; std::getline(stream, line);) {
        std::vector<std::string>& cells = rows.emplace_back(1);
        for (char const c : line) {
            if (c == ',') {
                cells.emplace_back();
            } else if (c != '\r') {
                cells.back() += c;
            }
        }
    }
    return rows;
}

}  // namespace reference

#endif
