// Columns of text that line up.
#ifndef EPICOTYL_SRC_DETAIL_TEXT_TABLE_HPP
#define EPICOTYL_SRC_DETAIL_TEXT_TABLE_HPP

#include <algorithm>
#include <cstddef>
#include <string>
#include <utility>
#include <vector>

namespace epicotyl::detail {

/// Rows of cells; the first column is set to the left, all others to the right.
class text_table {
public:
    void add(std::vector<std::string> row) { rows_.push_back(std::move(row)); }

    [[nodiscard]] std::string text(std::string const& indent = "  ") const {
        std::vector<std::size_t> widths;
        for (auto const& row : rows_) {
            widths.resize(std::max(widths.size(), row.size()));
            for (std::size_t i = 0; i < row.size(); ++i) {
                widths[i] = std::max(widths[i], width_of(row[i]));
            }
        }
        std::string text;
        for (auto const& row : rows_) {
            std::string line = indent;
            for (std::size_t i = 0; i < row.size(); ++i) {
                std::string const room(widths[i] - width_of(row[i]), ' ');
                line += (i > 0 ? "  " : "") + (i > 0 ? room + row[i] : row[i] + room);
            }
            line.erase(line.find_last_not_of(' ') + 1);
            text += line + "\n";
        }
        return text;
    }

private:
    /// UTF-8 continuation bytes take no room.
    [[nodiscard]] static std::size_t width_of(std::string const& cell) {
        return static_cast<std::size_t>(std::count_if(cell.begin(), cell.end(), [](char c) {
            return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
        }));
    }

    std::vector<std::vector<std::string>> rows_ = {};
};

}  // namespace epicotyl::detail

#endif
