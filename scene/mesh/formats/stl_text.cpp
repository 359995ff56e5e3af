#include "scene/mesh/formats/stl.hpp"
#include "scene/mesh/formats/text_scan.hpp"
#include "scene/mesh/formats/welder.hpp"

#include <fmt/format.h>

#include <array>
#include <cmath>

namespace evenclose {
namespace {

/// The words of a text STL one after the other, and where they stand.
class StlText {
public:
    explicit StlText(std::string_view text) : scan_(text) {}

    RawResult read() {
        RawMesh raw;
        Welder welder(scan_.left() / 500 + 2); // a facet takes about 250 bytes, two facets a vertex
        bool in_solid = false;
        std::string_view word;
        while (!(word = scan_.word()).empty()) {
            if (same_word(word, "solid")) {
                if (in_solid) {
                    return fault("a \"solid\" begins before the last one has its \"endsolid\"");
                }
                in_solid = true;
                scan_.skip_line(); // its name, whatever that is
            } else if (same_word(word, "endsolid")) {
                in_solid = false;
                scan_.skip_line();
            } else if (same_word(word, "facet")) {
                TriangleCorners triangle;
                if (auto wrong = read_facet(triangle, welder, raw.mesh.triangles.size() + 1)) {
                    return *wrong;
                }
                raw.mesh.triangles.push_back(triangle);
            } else {
                return fault(fmt::format("{} where \"facet\" or \"endsolid\" should be", shortened(word)));
            }
        }
        if (in_solid) {
            return NotRead{fmt::format("is cut short: it ends after {} triangles without \"endsolid\" (line {})",
                                       raw.mesh.triangles.size(), scan_.line())};
        }
        raw.corners_read = 3 * raw.mesh.triangles.size();
        raw.mesh.vertices_mm = welder.take();
        return raw;
    }

private:
    [[nodiscard]] NotRead fault(const std::string& what) const {
        return {fmt::format("line {}: {}", scan_.line(), what)};
    }
    [[nodiscard]] NotRead cut_short(std::size_t number) const {
        return {fmt::format("is cut short: it ends within triangle {} (line {})", number, scan_.line())};
    }

    std::optional<NotRead> expect(std::string_view wanted, std::size_t number) {
        return check(scan_.word(), wanted, number);
    }
    [[nodiscard]] std::optional<NotRead> check(std::string_view word, std::string_view wanted,
                                               std::size_t number) const {
        if (same_word(word, wanted)) {
            return {};
        }
        if (scan_.at_end()) {
            return cut_short(number);
        }
        if (same_word(word, "vertex") && same_word(wanted, "endloop")) {
            return fault(fmt::format("triangle {} has more than three corners", number));
        }
        return fault(fmt::format("{} where \"{}\" of triangle {} should be", shortened(word), wanted, number));
    }

    std::optional<NotRead> read_facet(TriangleCorners& triangle, Welder& welder, std::size_t number) {
        // "normal" and three numbers, which some write as nan: not needed, so not held to be numbers.
        std::string_view word = scan_.word();
        for (int skipped = 0; skipped < 4 && !word.empty() && !same_word(word, "outer"); ++skipped) {
            word = scan_.word();
        }
        if (auto wrong = check(word, "outer", number)) {
            return wrong;
        }
        if (auto wrong = expect("loop", number)) {
            return wrong;
        }
        for (std::uint32_t& corner : triangle) {
            if (auto wrong = expect("vertex", number)) {
                return wrong;
            }
            Vec3 at{0.0};
            for (int axis = 0; axis < 3; ++axis) {
                const std::string_view coordinate = scan_.word();
                const std::optional<double> value = number_in(coordinate);
                if (!value) {
                    return scan_.at_end() ? cut_short(number)
                                          : fault(fmt::format("{} is no coordinate of triangle {}",
                                                              shortened(coordinate), number));
                }
                if (!std::isfinite(*value)) {
                    return fault(fmt::format("triangle {} has a corner that is not a finite number ({})", number,
                                             shortened(coordinate)));
                }
                at[axis] = *value;
            }
            corner = welder.add(at);
        }
        for (const std::string_view end : {"endloop", "endfacet"}) {
            if (auto wrong = expect(end, number)) {
                return wrong;
            }
        }
        return {};
    }

    TextScan scan_;
};

} // namespace

RawResult read_text_stl(std::string_view text) { return StlText(text).read(); }

} // namespace evenclose
