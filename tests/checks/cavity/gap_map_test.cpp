#include "checks/cavity/gap_map.hpp"

#include "checks/cavity/even_out.hpp"
#include "checks/cavity/gap_summary.hpp"
#include "scene/mesh/shapes.hpp"
#include "tests/checks/cavity/field_half.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <tbb/global_control.h>

#include <algorithm>
#include <cmath>

namespace evenclose {

using test::even_steps;
using test::field_half;
using test::near;
using test::share;
using test::uneven_steps;
using test::within;

namespace {

/// A trough or a back along X: part of a cylinder of this radius about the X axis, cut at angles.
TriangleMesh arc_half(double radius_mm, const std::vector<double>& angles, double back_z_mm) {
    return field_half(
        even_steps(-40, 40, 16), angles,
        [&](double x, double a) {
            return Vec3{x, radius_mm * std::sin(a), radius_mm * std::cos(a)};
        },
        back_z_mm);
}

double widest(const std::vector<double>& steps) {
    double widest = 0;
    for (std::size_t i = 1; i < steps.size(); ++i) {
        widest = std::max(widest, steps[i] - steps[i - 1]);
    }
    return widest;
}

} // namespace

TEST_CASE("cavity: concentric arcs of R and R + t: t along the normal, the difference of heights along the stroke") {
    // Both closed forms are plain geometry of concentric circles.
    const double radius = 300;
    const double stack = 10;
    for (const bool uneven : {false, true}) {
        CAPTURE(uneven);
        const std::vector<double> lower_steps = uneven ? uneven_steps(-0.4, 0.4, 90, 11) : even_steps(-0.4, 0.4, 90);
        const std::vector<double> upper_steps = uneven ? uneven_steps(-0.4, 0.4, 70, 12) : even_steps(-0.4, 0.4, 77);
        const FacingHalves halves(share(arc_half(radius, lower_steps, 200)),
                                  share(arc_half(radius + stack, upper_steps, 400)), 0.5);
        // What the facets cost: a chord lies up to its sagitta inside the circle.
        const double lower_sagitta = radius * (1 - std::cos(0.5 * widest(lower_steps)));
        const double upper_sagitta = (radius + stack) * (1 - std::cos(0.5 * widest(upper_steps)));
        for (const double density : {0.0, 4.0}) {
            const GapMap map = halves.map({stack, density});
            double faced = 0;
            double whole = 0;
            double worst_normal = 0;
            double worst_stroke = 0;
            for (const GapSample& sample : map.samples) {
                whole += static_cast<double>(sample.area_mm2);
                if (sample.seen != Seen::faced || !sample.above) {
                    continue;
                }
                faced += static_cast<double>(sample.area_mm2);
                const double y = sample.at_mm.y;
                const double stroke =
                    std::sqrt((radius + stack) * (radius + stack) - y * y) - std::sqrt(radius * radius - y * y);
                const double cosine = std::sqrt(1 - y * y / (radius * radius));
                worst_normal = std::max(worst_normal, std::abs(static_cast<double>(sample.gap_mm) - stack));
                worst_stroke = std::max(worst_stroke, std::abs(static_cast<double>(sample.stroke_gap_mm) - stroke) -
                                                          (lower_sagitta + upper_sagitta) / cosine);
            }
            CHECK(worst_normal <= 0.01 + lower_sagitta + upper_sagitta);
            CHECK(worst_stroke <= 0.01);
            CHECK(faced > 0.97 * whole);
            // The lower face as wide as the arc (0.8 rad) and as long as the half (80).
            CHECK(within(whole, 0.8 * radius * 80, 0.01));
        }
    }
}

TEST_CASE("9.3 cavity: spheres of 100 and 110 stopped 1 short") {
    const auto cap = [](double radius, double back_z, double lift) {
        return field_half(
            even_steps(-1.15, 1.15, 240), even_steps(-1.15, 1.15, 240),
            [&](double a, double b) { // equal angles about two axes
                const Vec3 p = glm::normalize(Vec3{std::tan(a), std::tan(b), 1.0});
                return radius * p + Vec3{0, 0, lift};
            },
            back_z);
    };
    const FacingHalves halves(share(cap(100, 10, 0)), share(cap(110, 130, 1)), 0.5);
    const GapMap map = halves.map({10, 4});
    double worst = 0;
    int looked_at = 0;
    for (const GapSample& sample : map.samples) {
        const double sine = std::hypot(sample.at_mm.x, sample.at_mm.y) / 100;
        if (sample.seen == Seen::faced && sine < std::sin(glm::radians(61.0))) {
            const double cosine = std::sqrt(1 - sine * sine);
            const double gap = 1 * cosine + std::sqrt(110 * 110 - sine * sine) - 100;
            worst = std::max(worst, std::abs(static_cast<double>(sample.gap_mm) - gap));
            ++looked_at;
        }
    }
    CHECK(looked_at > 20000);
    // Facets turn by 2.3/240 rad: sagittas 100 (1 - cos(0.0048)) = 0.0012, twice as much across the diagonal, two faces.
    CHECK(worst < 0.01);
    // The values printed: 11 on top, 10.864889 at 30 degrees, 10.496591 at 60.
    for (const auto& [degrees, gap] : {std::pair{0.0, 11.0}, {30.0, 10.864889}, {60.0, 10.496591}}) {
        const double place = 100 * std::sin(glm::radians(degrees));
        const auto nearest =
            std::min_element(map.samples.begin(), map.samples.end(), [&](const auto& a, const auto& b) {
                return std::hypot(a.at_mm.x - place, a.at_mm.y) < std::hypot(b.at_mm.x - place, b.at_mm.y);
            });
        CHECK(near(static_cast<double>(nearest->gap_mm), gap, 0.02));
    }
}

TEST_CASE("9.2 cavity: an upper half lifted straight up by g leaves g cos(slope) along the normal") {
    struct Row {
        double degrees, gap_mm;
    };
    for (const Row& row : {Row{30, 8.660254}, Row{45, 7.071068}}) {
        CAPTURE(row.degrees);
        const double rise = std::tan(glm::radians(row.degrees));
        const auto ramp = [&](double lift, double back) {
            return field_half(
                {-50, 50}, {-30, 30},
                [&](double x, double y) {
                    return Vec3{x, y, rise * x + lift};
                },
                back);
        };
        const FacingHalves halves(share(ramp(0, -100)), share(ramp(10, 120)), 0.5,
                                  {{-30, -20}, {30, -20}, {30, 20}, {-30, 20}});
        const GapMap map = halves.map({10, 0});
        const GapSummary normal = summarise(map, 0.3);
        const GapSummary stroke = summarise(map, 0.3, Along::stroke);
        CHECK(near(normal.least_mm + 10, row.gap_mm, 1e-4));
        CHECK(near(normal.greatest_mm + 10, row.gap_mm, 1e-4));
        CHECK(near(stroke.least_mm, 0, 1e-4));
        CHECK(near(stroke.greatest_mm, 0, 1e-4));
        CHECK(within(normal.faced_mm2, 60 * 40 / std::cos(glm::radians(row.degrees)), 1e-6));
        CHECK(normal.unseen_mm2 == 0);
        CHECK(within(normal.crushed_mm2, normal.faced_mm2, 1e-9)); // all is more than 0.3 too narrow
    }
}

TEST_CASE("cavity: halves driven into each other give a negative gap, not none") {
    const auto block = [](double low, double high) { return share(box_shape({-50, -30, low}, {50, 30, high})); };
    const FacingHalves halves(block(0, 40), block(38.5, 80), 0.5);
    const GapSummary gaps = summarise(halves.map({10, 0}), 0.3);
    CHECK(near(gaps.least_mm, -11.5, 1e-5));
    CHECK(near(gaps.greatest_mm, -11.5, 1e-5));
}

TEST_CASE("cavity: where nothing faces there is no number") {
    // The upper half ends 20 short of the deck at one side, the deck 10 past the lower half at the other.
    const FacingHalves halves(share(box_shape({-50, -30, 0}, {50, 30, 40})),
                              share(box_shape({-50, -30, 50}, {30, 30, 80})), 0.5,
                              {{-60, -30}, {50, -30}, {50, 30}, {-60, 30}});
    for (const double density : {0.0, 4.0}) {
        CAPTURE(density);
        for (const GapSample& sample : halves.map({10, density}).samples) {
            const Seen truth = sample.at_mm.x < -50  ? Seen::no_lower_face
                               : sample.at_mm.x < 30 ? Seen::faced
                                                     : Seen::no_opposite_face;
            REQUIRE(sample.seen == truth);
            REQUIRE(sample.above == (truth == Seen::faced));
            REQUIRE(sample.gap_mm == (truth == Seen::faced ? 10.0F : 0.0F));
        }
        const GapSummary gaps = summarise(halves.map({10, density}), 0.3);
        CHECK(within(gaps.faced_mm2, 80 * 60, 1e-9));
        CHECK(within(gaps.unseen_mm2, 30 * 60, 1e-9));
    }
    // A slope at the lower face's end: its normal leans out past the upper half's rim.
    const auto ramp = share(field_half(
        {-50, 0, 50}, {-30, 30},
        [](double x, double y) {
            return Vec3{x, y, x > 0 ? 40 - x : 40};
        },
        -30));
    const FacingHalves leaning(ramp, share(box_shape({-50, -30, 50}, {50, 30, 80})), 0.5);
    const GapSummary gaps = summarise(leaning.map({10, 4}), 0.3);
    // From (x, 40 - x) towards (1, 1): meets z = 50 at 2x + 10, which is beyond 50 from x = 20 on: 30 of 100 in plan.
    CHECK(within(gaps.unseen_mm2, 30 * 60 * std::sqrt(2.0), 0.02));
}

TEST_CASE("cavity: adaptive sampling tells what dense sampling tells") {
    const FacingHalves halves(share(test::deck_lower()),
                              share(placed(test::deck_upper(10), {Mat3{1.0}, {0.5, 0.3, 0.2}})), 0.5);
    const GapMap dense_map = halves.map({10, 4});
    const GapMap adaptive_map = halves.map({10, 0});
    const GapSummary dense = summarise(dense_map, 0.2);
    const GapSummary adaptive = summarise(adaptive_map, 0.2);
    CHECK(adaptive_map.samples.size() < dense_map.samples.size() / 4);
    const Vec3 shared = glm::min(bounds_of(halves.lower()).high_mm, bounds_of(halves.upper()).high_mm) -
                        glm::max(bounds_of(halves.lower()).low_mm, bounds_of(halves.upper()).low_mm);
    CHECK(static_cast<double>(dense_map.samples.size()) >= 4 * shared.x * shared.y);
    CHECK(within(adaptive.faced_mm2, dense.faced_mm2, 0.005));
    CHECK(near(adaptive.loose_mm2 / adaptive.faced_mm2, dense.loose_mm2 / dense.faced_mm2, 0.01));
    for (std::size_t i = 0; i < 5; ++i) {
        CHECK(near(adaptive.percentile_mm[i], dense.percentile_mm[i], 0.02));
    }
}

TEST_CASE("cavity: the map is the same for one thread and for several") {
    const FacingHalves halves(share(test::deck_lower(80, 30)), share(test::deck_upper(10, 70, 33)), 0.7);
    const GapMap several = halves.map({10, 1});
    const tbb::global_control one(tbb::global_control::max_allowed_parallelism, 1);
    const FacingHalves again(share(test::deck_lower(80, 30)), share(test::deck_upper(10, 70, 33)), 0.7);
    const GapMap alone = again.map({10, 1});
    REQUIRE(several.samples.size() == alone.samples.size());
    for (std::size_t i = 0; i < alone.samples.size(); ++i) {
        REQUIRE(several.samples[i].gap_mm == alone.samples[i].gap_mm);
        REQUIRE(several.samples[i].stroke_gap_mm == alone.samples[i].stroke_gap_mm);
        REQUIRE(several.samples[i].seen == alone.samples[i].seen);
    }
}

TEST_CASE("cavity: a displaced face changes the gap by what it moves towards the other") {
    // Ramps of 30 degrees: a lower half raised by 0.4 at x = 50 and by nothing at x = -50 (a tilt of 4 mrad).
    const double rise = std::tan(glm::radians(30.0));
    const auto ramp = [&](double lift, double back) {
        return field_half(
            {-50, 50}, {-30, 30},
            [&](double x, double y) {
                return Vec3{x, y, rise * x + lift};
            },
            back);
    };
    const FacingHalves halves(share(ramp(0, -100)), share(ramp(10, 120)), 0.5,
                              {{-30, -20}, {30, -20}, {30, 20}, {-30, 20}});
    const GapMap rigid = halves.map({10, 0});
    const GapMap tilted = displaced(rigid, [](const Vec3& p) { return Vec3{0, 0, 0.004 * (p.x + 50)}; }, {});
    for (std::size_t i = 0; i < rigid.samples.size(); ++i) {
        const double change =
            static_cast<double>(tilted.samples[i].gap_mm) - static_cast<double>(rigid.samples[i].gap_mm);
        // REFERENCE 9: a tilt adds x sx vertically, so times cos(slope) along the normal.
        CHECK(near(change, -0.004 * (rigid.samples[i].at_mm.x + 50) * std::cos(glm::radians(30.0)), 1e-4));
        CHECK(near(static_cast<double>(tilted.samples[i].stroke_gap_mm) -
                       static_cast<double>(rigid.samples[i].stroke_gap_mm),
                   -0.004 * (rigid.samples[i].at_mm.x + 50), 1e-4));
    }
}

TEST_CASE("cavity: a half shifted 0.7 mm and turned 0.2 degrees is told as such") {
    // The faces are an exact offset of each other; the only fault is the known motion.
    const double turn = glm::radians(0.2);
    const Pose fault{glm::mat3_cast(glm::angleAxis(turn, Vec3{0, 0, 1})), {0.7, 0, 0}};
    const FacingHalves halves(share(test::deck_lower()), share(placed(test::deck_upper(10), fault)), 0.5);
    const GapMap map = halves.map({10, 0});
    const Evened evened = even_out(halves, map);
    CHECK(evened.settled);
    CHECK(evened.told[0]);
    CHECK(evened.told[5]);
    const Pose undone = inverse(evened.by.pose()); // what was done to the half, as told
    const Vec3 at_origin = undone.apply({0, 0, 0});
    CHECK(within(at_origin.x, 0.7, 0.05));
    CHECK(near(at_origin.y, 0, 0.035));
    const Vec3 along = undone.turn({1, 0, 0});
    CHECK(within(std::atan2(along.y, along.x), turn, 0.05));
    CHECK(evened.rms_before_mm > 0.05);
    CHECK(evened.rms_after_mm < 0.01); // facets only
}

TEST_CASE("cavity: a shape fault stays when the half is moved as well as can be") {
    // A dent 0.8 deep over a tenth of the length in an upper half that stands right.
    const TriangleMesh dented = field_half(
        even_steps(-300, 300, 200), even_steps(-90, 90, 60),
        [&](double x, double y) {
            const double dent = std::abs(x - 20) < 30 ? 0.4 * (1 + std::cos((x - 20) / 30 * 3.14159265358979)) : 0.0;
            return Vec3{x, y, test::deck_z(x, y)} + (10 + dent) * test::deck_normal(x, y);
        },
        160);
    const FacingHalves halves(share(test::deck_lower()), share(dented), 0.5);
    const GapMap map = halves.map({10, 0});
    const Evened evened = even_out(halves, map);
    CHECK(evened.rms_after_mm > 0.8 * evened.rms_before_mm);
    CHECK(near(summarise(map, 0.3).greatest_mm, 0.8, 0.02));
}

TEST_CASE("cavity: a straight trough tells no shift along itself") {
    const FacingHalves halves(share(arc_half(300, even_steps(-0.4, 0.4, 120), 200)),
                              share(placed(arc_half(310, even_steps(-0.4, 0.4, 120), 400), {Mat3{1.0}, {0, 0.5, 0}})),
                              0.5);
    const Evened evened = even_out(halves, halves.map({10, 0}));
    CHECK(!evened.told[0]);
    CHECK(evened.by.shift_mm.x == 0);
    const Pose undone = inverse(evened.by.pose());
    // A shift across is as good as a turn about the arcs' common axis: hold the motion at that axis, the origin.
    CHECK(near(undone.apply({0, 0, 0}).y, 0.5, 0.025));
}

TEST_CASE("9.3 cavity: the travel at which it closes most evenly is 1 further when stopped 1 short") {
    const FacingHalves halves(share(arc_half(300, even_steps(-0.4, 0.4, 120), 200)),
                              share(placed(arc_half(310, even_steps(-0.4, 0.4, 120), 400), {Mat3{1.0}, {0, 0, 1}})),
                              0.5);
    const Evened evened = even_out_by_travel(halves, halves.map({10, 0}));
    CHECK(near(evened.by.shift_mm.z, -1, 0.005));
    CHECK(evened.by.shift_mm.x == 0);
    CHECK(evened.rms_after_mm < 0.01);
}

} // namespace evenclose
