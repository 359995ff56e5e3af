#include "scene/documents/height_table.hpp"

#include "scene/documents/nearest_word.hpp"
#include "scene/documents/source_file.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

namespace evenclose {
namespace {

// Readings are taken with a rule or a calliper: a few, and never so many that a table of them is a mistake.
constexpr std::size_t kMostRows = 10'000;

std::string_view trimmed(std::string_view text) {
    const std::size_t first = text.find_first_not_of(" \t\r");
    if (first == std::string_view::npos) {
        return {};
    }
    return text.substr(first, text.find_last_not_of(" \t\r") - first + 1);
}

/// Cells of a line; one in double quotes may hold the separator.
std::vector<std::string> cells_of(std::string_view line, char separator) {
    std::vector<std::string> cells(1);
    bool quoted = false;
    for (const char c : line) {
        if (c == '"') {
            quoted = !quoted;
        } else if (c == separator && !quoted) {
            cells.emplace_back();
        } else {
            cells.back() += c;
        }
    }
    for (std::string& cell : cells) {
        cell = trimmed(cell);
    }
    return cells;
}

double mean(const std::vector<double>& values) {
    return std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
}

/// Which column holds each jack's heights; a sentence if one is missing or unknown.
std::variant<std::vector<std::size_t>, std::string> columns_of(const std::vector<std::string>& header,
                                                               const std::vector<Jack>& jacks) {
    if (header.front() != "travel") {
        return fmt::format("begins with \"{}\"; the first column is \"travel\", then the jacks by name",
                           header.front());
    }
    std::vector<std::string_view> names;
    for (const Jack& jack : jacks) {
        names.push_back(jack.name);
    }
    std::vector<std::size_t> columns(jacks.size(), 0);
    for (std::size_t column = 1; column < header.size(); ++column) {
        const auto name = std::find(names.begin(), names.end(), header[column]);
        if (name == names.end()) {
            const std::string_view nearest = nearest_word(header[column], names);
            return fmt::format("\"{}\" is no jack of this press{}", header[column],
                               nearest.empty() ? "" : fmt::format("; did you mean \"{}\"?", nearest));
        }
        columns[static_cast<std::size_t>(name - names.begin())] = column;
    }
    for (std::size_t jack = 0; jack < columns.size(); ++jack) {
        if (columns[jack] == 0) {
            return fmt::format("has no column \"{}\"", names[jack]);
        }
    }
    return columns;
}

} // namespace

std::variant<std::vector<HeightRow>, std::string> read_height_csv(std::string_view text, const std::vector<Jack>& jacks,
                                                                  LengthUnit unit) {
    if (text.starts_with("\xEF\xBB\xBF")) { // as spreadsheets put it before UTF-8
        text.remove_prefix(3);
    }
    std::vector<HeightRow> rows;
    std::vector<std::size_t> columns;
    char separator = ',';
    std::size_t number = 0;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find('\n'), text.size());
        const std::string_view line = trimmed(text.substr(0, end));
        text.remove_prefix(std::min(end + 1, text.size()));
        ++number;
        if (line.empty() || line.front() == '#') {
            continue;
        }
        if (columns.empty()) {
            separator = line.find(';') != std::string_view::npos ? ';' : ',';
            auto found = columns_of(cells_of(line, separator), jacks);
            if (const auto* problem = std::get_if<std::string>(&found)) {
                return fmt::format("line {}: {}", number, *problem);
            }
            columns = std::get<std::vector<std::size_t>>(std::move(found));
            continue;
        }
        const std::vector<std::string> cells = cells_of(line, separator);
        HeightRow row;
        const auto read = [&](std::size_t column, double& mm) -> std::string {
            if (column >= cells.size()) {
                return fmt::format("line {}: has {} columns, {} are wanted", number, cells.size(), columns.size() + 1);
            }
            const Read<double> length = read_length_mm(cells[column], unit);
            if (const auto* unreadable = std::get_if<Unreadable>(&length)) {
                return fmt::format("line {}: {}", number, unreadable->why);
            }
            mm = std::get<double>(length);
            return std::abs(mm) <= kLongest_mm ? ""
                                               : fmt::format("line {}: longer than 1 km; is the unit right?", number);
        };
        std::string problem = read(0, row.travel_mm);
        for (const std::size_t column : columns) {
            row.heads_mm.push_back(0);
            problem = problem.empty() ? read(column, row.heads_mm.back()) : problem;
        }
        if (!problem.empty()) {
            return problem;
        }
        rows.push_back(std::move(row));
        if (rows.size() > kMostRows) {
            return fmt::format("line {}: more than {} readings", number, kMostRows);
        }
    }
    if (columns.empty()) {
        return std::string{"is empty; the first line is \"travel\" and the names of the jacks"};
    }
    return rows;
}

TableFault fault_of(const std::vector<HeightRow>& rows) {
    if (rows.size() < 2) {
        return {0, "has fewer than two readings"};
    }
    for (std::size_t i = 0; i < rows.size(); ++i) {
        if (i == 0 && rows[i].travel_mm != 0) {
            return {i, "does not begin at travel 0"};
        }
        if (i > 0 && !(rows[i].travel_mm > rows[i - 1].travel_mm)) {
            return {i, "does not rise in travel"};
        }
        if (i > 0 && !(mean(rows[i].heads_mm) > mean(rows[i - 1].heads_mm))) {
            return {i, "does not lift the platen's middle"};
        }
    }
    return {};
}

TableFault out_of_reach(const std::vector<HeightRow>& rows, const std::vector<Jack>& jacks) {
    // What is built differs from what is drawn by less; a wrong unit is wrong by a factor of ten or more.
    constexpr double kAsBuilt_mm = 10;
    constexpr double kAsBuiltShare = 0.1; // of the stroke
    for (std::size_t i = 0; i < rows.size(); ++i) {
        for (std::size_t jack = 0; jack < jacks.size(); ++jack) {
            const double height = rows[i].heads_mm[jack];
            const double low = jacks[jack].head_z_mm(0);
            const double high = jacks[jack].head_z_mm(jacks[jack].stroke_mm);
            const double slack = kAsBuilt_mm + kAsBuiltShare * (high - low);
            if (height < low - slack || height > high + slack) {
                return {i, fmt::format("has {} at {:.4g} mm, which reaches from {:.4g} to {:.4g} mm", jacks[jack].name,
                                       height, low, high)};
            }
        }
    }
    return {};
}

MeasuredHeights read_measured_heights(DocumentSource& source, ObjectCursor& object, const std::vector<Jack>& jacks) {
    MeasuredHeights heights;
    heights.spread_mm = object.length_mm("spread", kZeroOrMore);
    std::vector<HeightRow> rows;
    const std::string_view from = object.one_of({"rows", "file"});
    if (from.empty()) {
        return heights;
    }
    bool read = true;
    if (from == "file") {
        heights.file = object.text("file");
        const std::variant<std::string, DocumentFault> text = read_source_file(source.resolve(heights.file));
        if (const auto* fault = std::get_if<DocumentFault>(&text)) {
            object.refuse("file", heights.file.empty() ? "" : fault->problem, fault->allowed);
            return heights;
        }
        auto table = read_height_csv(std::get<std::string>(text), jacks, source.unit());
        if (const auto* problem = std::get_if<std::string>(&table)) {
            object.refuse("file", *problem, "a line \"travel\" and the names of the jacks, then a line a reading");
            return heights;
        }
        rows = std::get<std::vector<HeightRow>>(std::move(table));
    } else {
        for (ObjectCursor& row : object.objects("rows", "measured_row", 2, "two readings or more")) {
            rows.push_back(
                {row.length_mm("travel", kZeroOrMore), row.length_list_mm("heads", jacks.size(), kAnyLength)});
            read = read && std::isfinite(rows.back().travel_mm) && rows.back().heads_mm.size() == jacks.size() &&
                   std::isfinite(mean(rows.back().heads_mm));
        }
        read = read && rows.size() >= 2;
    }
    if (!read) {
        return heights; // told already
    }
    if (const TableFault fault = fault_of(rows); !fault.problem.empty()) {
        object.refuse(from, fmt::format("row {} {}", fault.row + 1, fault.problem),
                      "readings from open (travel 0) upward, two or more");
        return heights;
    }
    if (const TableFault fault = out_of_reach(rows, jacks); !fault.problem.empty()) {
        object.refuse(from, fmt::format("row {} {}", fault.row + 1, fault.problem),
                      "heights of the heads above the floor; are they in the document's unit?");
        return heights;
    }
    for (HeightRow& row : rows) {
        heights.travel_mm.push_back(row.travel_mm);
        heights.heads_mm.push_back(std::move(row.heads_mm));
    }
    return heights;
}

} // namespace evenclose
