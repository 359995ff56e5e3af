#include "scene/mesh/polygon.hpp"

#include "scene/mesh/predicates.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string_view>

namespace evenclose {
namespace {

/// Which way round a simple loop goes. By its corner farthest to the left, where it surely turns: an area summed in doubles has
/// the wrong sign where corners lie 1e37 apart. Needs: a simple loop.
bool counter_clockwise(const std::vector<Vec2>& loop) {
    const auto farther_left = [](const Vec2& p, const Vec2& q) { return p.x < q.x || (p.x == q.x && p.y < q.y); };
    const auto tip = static_cast<std::size_t>(std::min_element(loop.begin(), loop.end(), farther_left) - loop.begin());
    return orientation(loop[(tip + loop.size() - 1) % loop.size()], loop[tip], loop[(tip + 1) % loop.size()]) > 0;
}

/// p lies on the closed segment a b; needs the three in line.
bool between(const Vec2& a, const Vec2& b, const Vec2& p) {
    return std::min(a.x, b.x) <= p.x && p.x <= std::max(a.x, b.x) && std::min(a.y, b.y) <= p.y &&
           p.y <= std::max(a.y, b.y);
}

/// The closed segments a b and c d have a point in common.
bool meet(const Vec2& a, const Vec2& b, const Vec2& c, const Vec2& d) {
    const int c_side = orientation(a, b, c), d_side = orientation(a, b, d);
    const int a_side = orientation(c, d, a), b_side = orientation(c, d, b);
    if (c_side * d_side < 0 && a_side * b_side < 0) {
        return true;
    }
    return (c_side == 0 && between(a, b, c)) || (d_side == 0 && between(a, b, d)) ||
           (a_side == 0 && between(c, d, a)) || (b_side == 0 && between(c, d, b));
}

/// p in the closed triangle a b c, which turns counter-clockwise.
bool in_triangle(const Vec2& a, const Vec2& b, const Vec2& c, const Vec2& p) {
    return orientation(a, b, p) >= 0 && orientation(b, c, p) >= 0 && orientation(c, a, p) >= 0;
}

/// p strictly inside the loop, by crossings of a ray; needs p off the loop.
bool inside(const std::vector<Vec2>& loop, const Vec2& p) {
    bool odd = false;
    for (std::size_t i = 0; i < loop.size(); ++i) {
        const Vec2& a = loop[i];
        const Vec2& b = loop[(i + 1) % loop.size()];
        if ((a.y > p.y) != (b.y > p.y)) {
            const int side = orientation(a, b, p);
            odd ^= (b.y > a.y) ? side > 0 : side < 0;
        }
    }
    return odd;
}

std::vector<Vec2> without_repeats(const std::vector<Vec2>& loop, std::string_view name) {
    std::vector<Vec2> kept;
    for (const Vec2& corner : loop) {
        if (!std::isfinite(corner.x) || !std::isfinite(corner.y)) {
            throw std::invalid_argument(fmt::format("polygon: a corner of the {} is not finite", name));
        }
        if (kept.empty() || kept.back() != corner) {
            kept.push_back(corner);
        }
    }
    while (kept.size() > 1 && kept.front() == kept.back()) {
        kept.pop_back();
    }
    if (kept.size() < 3) {
        throw std::invalid_argument(fmt::format("polygon: the {} has fewer than three different corners", name));
    }
    return kept;
}

/// Edges of one loop may share only the corner between neighbours.
void refuse_crossings(const std::vector<Vec2>& loop, std::string_view name) {
    const std::size_t n = loop.size();
    for (std::size_t i = 0; i < n; ++i) {
        const Vec2 &a = loop[i], &b = loop[(i + 1) % n], &next = loop[(i + 2) % n];
        // a spike that turns back along itself
        const bool spike = orientation(a, b, next) == 0 && (between(a, b, next) || between(b, next, a));
        bool crosses = spike;
        for (std::size_t j = i + 2; j < n && !crosses; ++j) {
            if (i == 0 && j == n - 1) {
                continue; // neighbours round the end
            }
            crosses = meet(a, b, loop[j], loop[(j + 1) % n]);
        }
        if (crosses) {
            throw std::invalid_argument(
                fmt::format("polygon: the {} crosses or touches itself near ({:g}, {:g})", name, b.x, b.y));
        }
    }
}

void refuse_hole_not_inside(const std::vector<Vec2>& outline, const std::vector<Vec2>& hole) {
    for (std::size_t i = 0; i < hole.size(); ++i) {
        for (std::size_t j = 0; j < outline.size(); ++j) {
            if (meet(hole[i], hole[(i + 1) % hole.size()], outline[j], outline[(j + 1) % outline.size()])) {
                throw std::invalid_argument(
                    fmt::format("polygon: the hole touches the outline near ({:g}, {:g})", hole[i].x, hole[i].y));
            }
        }
    }
    if (!inside(outline, hole[0])) {
        throw std::invalid_argument("polygon: the hole is not inside the outline");
    }
}

/// One loop over corner numbers: the outline, and if there is a hole a bridge to it, round it, and the bridge back.
std::vector<std::uint32_t> joined_loop(const std::vector<Vec2>& corners, std::size_t outline_size) {
    std::vector<std::uint32_t> loop;
    const std::size_t hole_size = corners.size() - outline_size;
    std::size_t from = 0, to = 0;
    if (hole_size > 0) {
        const auto sees = [&](std::size_t out, std::size_t in) {
            for (std::size_t i = 0; i < corners.size(); ++i) {
                const std::size_t next =
                    i < outline_size ? (i + 1) % outline_size : outline_size + (i + 1 - outline_size) % hole_size;
                if (i == out || next == out || i == in || next == in) {
                    // An edge at an end of the bridge: only its far corner could lie on the bridge.
                    const std::size_t far = i == out || i == in ? next : i;
                    if (far != out && far != in && orientation(corners[out], corners[in], corners[far]) == 0 &&
                        between(corners[out], corners[in], corners[far])) {
                        return false;
                    }
                    continue;
                }
                if (meet(corners[out], corners[in], corners[i], corners[next])) {
                    return false;
                }
            }
            return true;
        };
        bool found = false;
        for (std::size_t in = outline_size; in < corners.size() && !found; ++in) {
            for (std::size_t out = 0; out < outline_size && !found; ++out) {
                if (sees(out, in)) {
                    from = out;
                    to = in;
                    found = true;
                }
            }
        }
        if (!found) {
            throw std::invalid_argument("polygon: no corner of the outline sees the hole");
        }
    }
    for (std::size_t i = 0; i < outline_size; ++i) {
        loop.push_back(static_cast<std::uint32_t>(i));
        if (hole_size > 0 && i == from) {
            for (std::size_t k = 0; k <= hole_size; ++k) {
                loop.push_back(static_cast<std::uint32_t>(outline_size + (to - outline_size + k) % hole_size));
            }
            loop.push_back(static_cast<std::uint32_t>(i));
        }
    }
    return loop;
}

std::vector<TriangleCorners> clipped_ears(const std::vector<Vec2>& corners, std::vector<std::uint32_t> loop) {
    std::vector<TriangleCorners> triangles;
    std::size_t at = 0;
    std::size_t refused = 0;
    while (loop.size() > 2) {
        const std::size_t n = loop.size();
        at %= n;
        const std::uint32_t before = loop[(at + n - 1) % n], tip = loop[at], after = loop[(at + 1) % n];
        const Vec2 &a = corners[before], &b = corners[tip], &c = corners[after];
        bool ear = orientation(a, b, c) > 0;
        for (std::size_t i = 0; i < n && ear; ++i) {
            const Vec2& p = corners[loop[i]];
            // A corner met twice, at a bridge's end, is no obstacle to itself.
            if (p != a && p != b && p != c && in_triangle(a, b, c, p)) {
                ear = false;
            }
        }
        if (ear) {
            triangles.push_back({before, tip, after});
            loop.erase(loop.begin() + static_cast<std::ptrdiff_t>(at));
            refused = 0;
            ++at; // go round, for less slender triangles
        } else {
            ++at;
            if (++refused > n) {
                throw std::invalid_argument("polygon: no ear is found"); // beyond what orientation() can tell
            }
        }
    }
    return triangles;
}

} // namespace

CutPolygon cut_into_triangles(const Polygon& polygon) {
    CutPolygon cut;
    cut.corners_mm = without_repeats(polygon.outline_mm, "outline");
    refuse_crossings(cut.corners_mm, "outline");
    if (!counter_clockwise(cut.corners_mm)) {
        std::reverse(cut.corners_mm.begin(), cut.corners_mm.end());
    }
    cut.outline_size = cut.corners_mm.size();
    if (!polygon.hole_mm.empty()) {
        std::vector<Vec2> hole = without_repeats(polygon.hole_mm, "hole");
        refuse_crossings(hole, "hole");
        refuse_hole_not_inside(cut.corners_mm, hole);
        if (counter_clockwise(hole)) {
            std::reverse(hole.begin(), hole.end());
        }
        cut.corners_mm.insert(cut.corners_mm.end(), hole.begin(), hole.end());
    }
    cut.triangles = clipped_ears(cut.corners_mm, joined_loop(cut.corners_mm, cut.outline_size));
    return cut;
}

} // namespace evenclose
