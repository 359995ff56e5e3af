#include "checks/report/text_table.hpp"

#include "checks/report/text_report.hpp"

#include <algorithm>
#include <iterator>

namespace evenclose {

std::size_t columns_of(const std::string& text) {
    return static_cast<std::size_t>(std::count_if(
        text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

std::string TextTable::text(int width) const {
    std::vector<std::size_t> widths;
    std::transform(headings.begin(), headings.end(), std::back_inserter(widths), columns_of);
    for (const std::vector<std::string>& row : rows) {
        for (std::size_t i = 0; i < row.size(); ++i) {
            widths[i] = std::max(widths[i], columns_of(row[i]));
        }
    }
    int indent = 0;
    for (std::size_t i = 0; i + 1 < widths.size(); ++i) {
        indent += static_cast<int>(widths[i]) + 2;
    }
    const auto line = [&](const std::vector<std::string>& row) {
        std::string before;
        for (std::size_t i = 0; i + 1 < row.size(); ++i) {
            const std::string gap(widths[i] - columns_of(row[i]), ' ');
            const bool flush_right = std::find(right.begin(), right.end(), i) != right.end();
            before += (flush_right ? gap + row[i] : row[i] + gap) + "  ";
        }
        if (row.back().empty()) {
            before.erase(before.find_last_not_of(' ') + 1);
            return before + "\n";
        }
        const std::string last = wrapped(row.back(), indent, std::max(width, indent + 30));
        return before + last.substr(static_cast<std::size_t>(indent));
    };
    std::string text = line(headings);
    for (const std::vector<std::string>& row : rows) {
        text += line(row);
    }
    return text;
}

std::string csv_line(const std::vector<std::string>& cells) {
    std::string line;
    for (const std::string& cell : cells) {
        line += line.empty() && &cell == &cells.front() ? "" : ",";
        if (cell.find_first_of(",\"\r\n") == std::string::npos) {
            line += cell;
            continue;
        }
        line += '"';
        for (const char c : cell) {
            line += c == '"' ? std::string("\"\"") : std::string(1, c);
        }
        line += '"';
    }
    return line + "\r\n";
}

} // namespace evenclose
