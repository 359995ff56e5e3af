#include "scene/mesh/polygon.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <random>
#include <stdexcept>
#include <vector>

using namespace evenclose;

namespace {

__extension__ using Exact = __int128; // whole numbers below 2^53: their products of two are far from its ends

Exact twice_area(const Vec2& a, const Vec2& b, const Vec2& c) {
    const auto whole = [](double number) { return static_cast<Exact>(static_cast<long long>(number)); };
    return (whole(b.x) - whole(a.x)) * (whole(c.y) - whole(a.y)) -
           (whole(b.y) - whole(a.y)) * (whole(c.x) - whole(a.x));
}

/// Exact in whole numbers: as many triangles as a simple polygon has, all the right way round, and all of its area.
void check_cut(const std::vector<Vec2>& outline) {
    const CutPolygon cut = cut_into_triangles({outline, {}});
    CHECK(cut.triangles.size() == cut.corners_mm.size() - 2);
    Exact sum = 0;
    for (const TriangleCorners& t : cut.triangles) {
        const Exact area = twice_area(cut.corners_mm[t[0]], cut.corners_mm[t[1]], cut.corners_mm[t[2]]);
        CHECK(area > 0);
        sum += area;
    }
    Exact whole = 0;
    for (std::size_t i = 1; i + 1 < outline.size(); ++i) {
        whole += twice_area(outline[0], outline[i], outline[i + 1]);
    }
    CHECK((whole < 0 ? -whole : whole) == sum);
}

} // namespace

TEST_CASE("a polygon whose corners lie far apart is cut, whichever way round it goes") {
    std::vector<Vec2> outline{{22222222222222222.0, 9}, {1, 2}, {9, 222222222222222220.0}, {-1, -2}, {0, 0}};
    check_cut(outline); // as a fuzzer found it: its area summed in doubles has the wrong sign
    std::reverse(outline.begin(), outline.end());
    check_cut(outline);
}

TEST_CASE("star-shaped polygons of any spread are cut into all of their area") {
    std::mt19937_64 random(20261201);
    int cut = 0;
    for (int i = 0; i < 3000; ++i) {
        // Corners round the origin in order of their angle: simple, unless two lie in one line from it or it is not inside.
        std::vector<Vec2> outline;
        const std::size_t corners = 3 + random() % 9;
        for (std::size_t k = 0; k < corners; ++k) {
            const double reach = std::exp2(static_cast<double>(random() % 50));
            const auto part = [&] { return std::round(reach * (static_cast<double>(random() % 2001) / 1000 - 1)); };
            const double x = part();
            outline.emplace_back(x, part());
        }
        std::sort(outline.begin(), outline.end(),
                  [](const Vec2& p, const Vec2& q) { return std::atan2(p.y, p.x) < std::atan2(q.y, q.x); });
        if (i % 2 == 0) {
            std::reverse(outline.begin(), outline.end());
        }
        bool simple = true;
        try {
            (void)cut_into_triangles({outline, {}});
        } catch (const std::invalid_argument&) {
            simple = false; // some are not
        }
        if (simple) {
            check_cut(outline);
            ++cut;
        }
    }
    CHECK(cut > 1000);
}
