#include "viewer/app/level_band.hpp"

#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <limits>

using namespace evenclose;
using test::near;

namespace {

/// Grows evenly to `end_mm` at travel 100.
LevelCurve wedge(LevelSource source, bool counts, double end_mm) {
    LevelCurve curve;
    curve.source = source;
    curve.counts = counts;
    for (int i = 0; i <= 10; ++i) {
        LevelPoint point;
        point.at = {10.0 * i};
        point.high_over_deck_mm = 0.1 * i * end_mm;
        point.low_over_deck_mm = -point.high_over_deck_mm;
        point.nominal_over_deck_mm = 0.5 * point.high_over_deck_mm;
        curve.points.push_back(point);
    }
    return curve;
}

} // namespace

TEST_CASE("tilt on the rail: the curve that counts beside the drives by themselves") {
    const std::vector<LevelCurve> alone{wedge(LevelSource::unlinked, true, 3)};
    CHECK(level_pairing(alone).counts == &alone[0]);
    CHECK(level_pairing(alone).compared == nullptr);
    const std::vector<LevelCurve> both{wedge(LevelSource::unlinked, false, 6), wedge(LevelSource::linked, true, 0.2)};
    CHECK(level_pairing(both).counts == &both[1]);
    CHECK(level_pairing(both).compared == &both[0]);
    CHECK(level_pairing({}).counts == nullptr);
}

TEST_CASE("tilt on the rail: the scale shows all of what counts and the limit, what is compared may run off") {
    const std::vector<LevelCurve> both{wedge(LevelSource::unlinked, false, 6), wedge(LevelSource::linked, true, 0.2)};
    CHECK(near(level_reach_mm(level_pairing(both), 0.5), 0.8, 1e-12));
    const std::vector<LevelCurve> alone{wedge(LevelSource::unlinked, true, 3)};
    CHECK(near(level_reach_mm(level_pairing(alone), 0.5), 3, 1e-12));
    const std::vector<LevelCurve> level{wedge(LevelSource::unlinked, true, 0)};
    CHECK(level_reach_mm(level_pairing(level), 0) > 0);
    const std::vector<LevelCurve> spoiled{wedge(LevelSource::unlinked, true, std::numeric_limits<double>::infinity())};
    CHECK(std::isfinite(level_reach_mm(level_pairing(spoiled), 0.5)));
}

TEST_CASE("tilt on the rail: straight between two points, and as at the ends beyond them") {
    const LevelCurve curve = wedge(LevelSource::unlinked, true, 3);
    CHECK(near(level_at(curve, {35}).high_over_deck_mm, 1.05, 1e-12));
    CHECK(near(level_at(curve, {35}).low_over_deck_mm, -1.05, 1e-12));
    CHECK(near(level_at(curve, {35}).nominal_over_deck_mm, 0.525, 1e-12));
    CHECK(level_at(curve, {-5}).high_over_deck_mm == 0);
    CHECK(near(level_at(curve, {200}).high_over_deck_mm, 3, 1e-12));
}
