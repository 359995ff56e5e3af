// scene/documents/height_table.hpp: heights of the jack heads as read off a press: rows in the document, or a CSV file.
#pragma once

#include "scene/documents/object_cursor.hpp"
#include "scene/press/press.hpp"

#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace evenclose {

[[nodiscard]] MeasuredHeights read_measured_heights(DocumentSource& source, ObjectCursor& object,
                                                    const std::vector<Jack>& jacks);

struct HeightRow {
    double travel_mm = 0;
    std::vector<double> heads_mm; // in the order of the jacks
};

/// Rows of a CSV text: see drive_document.hpp. Bare numbers are in `unit`.
/// Faults: one line, with the line of the file and what is allowed.   Threads: pure, any.
[[nodiscard]] std::variant<std::vector<HeightRow>, std::string>
read_height_csv(std::string_view text, const std::vector<Jack>& jacks, LengthUnit unit);

/// What makes rows unusable as a table, as a sentence part; empty if they are usable. `row`: which one.
struct TableFault {
    std::size_t row = 0;
    std::string problem;
};
[[nodiscard]] TableFault fault_of(const std::vector<HeightRow>& rows);

/// A height that its jack cannot have, by far: read in another unit, or not from the floor. Empty if there is none.
[[nodiscard]] TableFault out_of_reach(const std::vector<HeightRow>& rows, const std::vector<Jack>& jacks);

} // namespace evenclose
