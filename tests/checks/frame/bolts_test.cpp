// Bolts in shear: the standards' own tables and closed forms, and what a joint of a press says.
#include "checks/frame/bolts.hpp"
#include "checks/frame/frame_check.hpp"
#include "checks/phrase.hpp"
#include "tests/checks/frame/portal_press.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace evenclose {

using test::PortalPress;
using test::within;

TEST_CASE("stress areas of coarse threads (ISO 898-1 table 4: 20.1, 36.6, 58.0, 84.3, 157, 245, 353 mm2)") {
    struct Row {
        double d, area;
    };
    for (const Row& row :
         {Row{6, 20.1}, Row{8, 36.6}, Row{10, 58.0}, Row{12, 84.3}, Row{16, 157}, Row{20, 245}, Row{24, 353}}) {
        CAPTURE(row.d);
        CHECK(within(stress_area_mm2(row.d), row.area, 3e-3));
    }
}

TEST_CASE("a bolt's shear resistance (EN 1993-1-8 table 3.4: M12 8.8 32.4 kN, M16 8.8 60.3, M20 10.9 98, as listed in "
          "tables)") {
    const Material steel = *find_material({}, "S235");
    struct Row {
        double d;
        const char* grade;
        double kN;
    };
    for (const Row& row : {Row{12, "8.8", 32.4}, Row{16, "8.8", 60.3}, Row{20, "10.9", 98.0}, Row{20, "4.6", 47.0}}) {
        CAPTURE(row.grade);
        const BoltCapacity may = bolt_capacity(row.d, *find_material({}, row.grade), {steel, 10, 0}, {steel, 10, 0});
        CHECK(within(1.5 * may.allowed_N, 1000 * row.kN, 3e-3)); // less the load factor
        CHECK(may.by == "the bolt shears");
    }
}

TEST_CASE("Johansen's modes: closed forms of the limiting cases") {
    const double f = 24;
    const double d = 12;
    const double My = 0.3 * 800 * std::pow(d, 2.6);
    // A bolt that does not bend, timbers alike: mode c gives f t d (sqrt 2 - 1).
    CHECK(within(timber_to_timber_N(f, 40, f, 40, d, 1e12), f * 40 * d * (std::numbers::sqrt2 - 1), 1e-9));
    // Thick timbers: two plastic hinges, 1.15 sqrt(2 My f d).
    CHECK(within(timber_to_timber_N(f, 400, f, 400, d, My), 1.15 * std::sqrt(2 * My * f * d), 1e-9));
    // It does not matter which side is called first, but for the name of the modes.
    CHECK(within(timber_to_timber_N(f, 40, 0.5 * f, 90, d, My), timber_to_timber_N(0.5 * f, 90, f, 40, d, My), 1e-9));
    // Steel plate: thin 0.4 f t d, thick 2.3 sqrt(My f d), between by a straight line.
    CHECK(within(steel_to_timber_N(f, 30, 5, d, 1e12), 0.4 * f * 30 * d, 1e-9));
    CHECK(within(steel_to_timber_N(f, 400, 12, d, My), 2.3 * std::sqrt(My * f * d), 1e-9));
    CHECK(within(steel_to_timber_N(f, 400, 9, d, My), 0.5 * (2.3 + 1.15 * std::numbers::sqrt2) * std::sqrt(My * f * d),
                 1e-9));
}

TEST_CASE(
    "embedment: 0.082 (1 - 0.01 d) rho along the grain, across it over 1.35 + 0.015 d (EN 1995-1-1, 8.31 to 8.33)") {
    const Material wood = *find_material({}, "C24"); // rho_k 350
    const Material bolt = *find_material({}, "8.8");
    // A short stiff bolt, thick steel plate, 20 mm of wood: f t d (sqrt(2 + 4 My / f d t^2) - 1) is more than f t d.
    const double along = 0.082 * 0.88 * 350;
    const auto allowed = [&](double angle) {
        return bolt_capacity(12, bolt, {*find_material({}, "S235"), 12, 0}, {wood, 20, angle}).allowed_N;
    };
    const double k = 0.8 / 1.3 / 1.5;
    CHECK(within(allowed(0), k * along * 20 * 12, 1e-9));
    CHECK(within(allowed(0.5 * std::numbers::pi), k * along / (1.35 + 0.015 * 12) * 20 * 12, 1e-9));
}

TEST_CASE("frame: a bolted joint that tells its bolts is judged, one that does not is named with its shear") {
    PortalPress portal;
    portal.setup.closing_force_N = 40000;
    for (const std::size_t post : {2, 3}) { // from face to face
        portal.press.members[post].a_mm.z = PortalPress::kBase_z_mm + 60;
        portal.press.members[post].b_mm.z = PortalPress::kBase_z_mm + PortalPress::kRise_mm - 60;
    }
    const auto findings_of = [&] {
        const Setup& setup = portal.made();
        const Assembly assembly = assemble(setup);
        const FrameMeasure measure = measure_frame(setup, assembly, measure_pressure(setup, assembly));
        REQUIRE(measure.computed());
        return std::pair(measure, judge(measure, setup, assembly));
    };
    portal.press.joints = {{"left post", "head beam", JointKind::bolted}};
    auto [untold, said] = findings_of();
    const auto joints = std::find_if(said.begin(), said.end(), [](const Finding& finding) {
        return finding.title.find("joints were found") != std::string::npos;
    });
    REQUIRE(joints != said.end());
    CHECK(joints->why.find("Not checked: shear in the bolts of 1 of them") != std::string::npos);
    CHECK(joints->why.find("head beam and left post") != std::string::npos);

    // A bolt so thin that it is the first to go.
    portal.press.joints[0].bolts = Bolts{1, 1, "4.6"};
    const auto [told, with_bolts] = findings_of();
    const auto use = std::find_if(told.uses.begin(), told.uses.end(),
                                  [](const PartUse& u) { return u.by.find("its bolts to") != std::string::npos; });
    REQUIRE(use != told.uses.end());
    CHECK(use->by.find("the bolt shears") != std::string::npos);
    // Four of them bear four times as much.
    portal.press.joints[0].bolts = Bolts{4, 1, "4.6"};
    const auto [four, with_four] = findings_of();
    const auto less = std::find_if(four.uses.begin(), four.uses.end(),
                                   [](const PartUse& u) { return u.by.find("its bolts to") != std::string::npos; });
    if (less != four.uses.end()) {
        CHECK(within(less->use, use->use / 4, 1e-6));
    }
}

} // namespace evenclose
