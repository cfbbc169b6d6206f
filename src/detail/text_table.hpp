// Columns of text that line up, on a page of 100.
#ifndef EPICOTYL_SRC_DETAIL_TEXT_TABLE_HPP
#define EPICOTYL_SRC_DETAIL_TEXT_TABLE_HPP

#include <algorithm>
#include <cstddef>
#include <set>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "wrapped.hpp"

namespace epicotyl::detail {

/// Rows of cells; the first column is set to the left, all others to the right. Columns that a page
/// has no room for follow in another block, beside the first column again.
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
                widths[i] = std::max(widths[i], columns_of(row[i]));
            }
        }
        if (widths.empty()) { return {}; }
        std::vector<std::size_t> shown;  // besides the first
        for (std::size_t i = 1; i < widths.size(); ++i) {
            if (!is_left_out(i)) { shown.push_back(i); }
        }
        std::string text;
        std::size_t first = 0;
        do {
            std::size_t width = indent.size() + widths[0];
            std::size_t end = first;
            while (end < shown.size() &&
                   (end == first || width + gap + widths[shown[end]] <= page_columns)) {
                width += gap + widths[shown[end++]];
            }
            if (first > 0) { text += '\n'; }
            add_block(text, indent, widths, std::span{shown}.subspan(first, end - first));
            first = end;
        } while (first < shown.size());
        return text;
    }

private:
    static constexpr std::size_t gap = 2;  ///< blanks between columns

    [[nodiscard]] bool is_left_out(std::size_t column) const {
        return shown_ == without_empty_columns && rows_.size() > 1 &&
               std::all_of(rows_.begin() + 1, rows_.end(), [column](auto const& row) {
                   return column >= row.size() || row[column].empty();
               });
    }

    /// The first column, and some others.
    void add_block(std::string& text, std::string const& indent,
                   std::vector<std::size_t> const& widths,
                   std::span<std::size_t const> others) const {
        for (auto const& row : rows_) {
            std::string line = indent + padded(row.empty() ? "" : row[0], widths[0]);
            for (std::size_t const i : others) {
                if (i >= row.size()) { break; }
                std::string const room(widths[i] - columns_of(row[i]), ' ');
                line.append(gap, ' ').append(left_.contains(i) ? row[i] + room : room + row[i]);
            }
            line.erase(line.find_last_not_of(' ') + 1);
            text += line + "\n";
        }
    }

    columns shown_;
    std::set<std::size_t> left_ = {0};
    std::vector<std::vector<std::string>> rows_ = {};
};

}  // namespace epicotyl::detail

#endif
