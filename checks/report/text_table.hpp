// checks/report/text_table.hpp: rows under headings for a terminal; the last column is a sentence and wraps.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

namespace evenclose {

struct TextTable {
    std::vector<std::string> headings;
    std::vector<std::vector<std::string>> rows; // each as long as the headings
    std::vector<std::size_t> right = {};        // columns whose cells stand flush right: numbers

    /// Every column as wide as its widest cell, two blanks between; the last one takes what is left of `width`, 30
    /// columns at least.
    [[nodiscard]] std::string text(int width) const;
};

/// Columns that UTF-8 text takes: its characters.
[[nodiscard]] std::size_t columns_of(const std::string& text);

/// One line of comma-separated values (RFC 4180: quoted where a comma, quote or line end is in it), ended by \r\n.
[[nodiscard]] std::string csv_line(const std::vector<std::string>& cells);

} // namespace evenclose
