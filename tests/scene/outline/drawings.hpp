// tests/scene/outline/drawings.hpp: DXF text as short as it can be written, for tests.
#pragma once

#include <fmt/format.h>

#include <string>
#include <utility>
#include <vector>

namespace evenclose::test {

using Pairs = std::vector<std::pair<int, double>>;

/// One entity: its name and its groups.
inline std::string entity(const char* name, const Pairs& groups) {
    std::string text = fmt::format("  0\n{}\n", name);
    for (const auto& [code, value] : groups) {
        text += fmt::format("{:3}\n{}\n", code, value);
    }
    return text;
}

/// A whole drawing; `units` as $INSUNITS has them (4 is mm), below 0 none.
inline std::string dxf(const std::string& entities, int units = 4) {
    const std::string head =
        units < 0 ? "" : fmt::format("  0\nSECTION\n  2\nHEADER\n  9\n$INSUNITS\n 70\n{}\n  0\nENDSEC\n", units);
    return head + "  0\nSECTION\n  2\nENTITIES\n" + entities + "  0\nENDSEC\n  0\nEOF\n";
}

inline std::string dxf_line(double x1, double y1, double x2, double y2) {
    return entity("LINE", {{10, x1}, {20, y1}, {11, x2}, {21, y2}});
}

inline std::string svg(const std::string& inside, const std::string& page = R"(viewBox="0 0 200 100")") {
    return fmt::format("<?xml version=\"1.0\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" {}>\n{}\n</svg>\n", page,
                       inside);
}

} // namespace evenclose::test
