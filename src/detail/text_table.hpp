// Columns of text that line up.
#ifndef EPICOTYL_SRC_DETAIL_TEXT_TABLE_HPP
#define EPICOTYL_SRC_DETAIL_TEXT_TABLE_HPP

#include <algorithm>
#include <cstddef>
#include <set>
#include <string>
#include <utility>
#include <vector>

namespace epicotyl::detail {

/// Rows of cells; the first column is set to the left, all others to the right.
class text_table {
public:
    enum columns { all_columns, without_empty_columns };

    /// An empty column has nothing but a head; of a table without a row below it none is left out.
    explicit text_table(columns shown = all_columns) : shown_{shown} {}

    void add(std::vector<std::string> row) { rows_.push_back(std::move(row)); }
    /// Sets one more column to the left.
    void set_left(std::size_t column) { left_.insert(column); }

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
                if (is_left_out(i)) { continue; }
                std::string const room(widths[i] - width_of(row[i]), ' ');
                line += (i > 0 ? "  " : "") + (left_.contains(i) ? row[i] + room : room + row[i]);
            }
            line.erase(line.find_last_not_of(' ') + 1);
            text += line + "\n";
        }
        return text;
    }

private:
    [[nodiscard]] bool is_left_out(std::size_t column) const {
        return shown_ == without_empty_columns && rows_.size() > 1 &&
               std::all_of(rows_.begin() + 1, rows_.end(), [column](auto const& row) {
                   return column >= row.size() || row[column].empty();
               });
    }

    /// UTF-8 continuation bytes take no room.
    [[nodiscard]] static std::size_t width_of(std::string const& cell) {
        return static_cast<std::size_t>(std::count_if(cell.begin(), cell.end(), [](char c) {
            return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
        }));
    }

    columns shown_;
    std::set<std::size_t> left_ = {0};
    std::vector<std::vector<std::string>> rows_ = {};
};

}  // namespace epicotyl::detail

#endif
