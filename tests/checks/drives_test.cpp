#include "checks/phrase.hpp"
#include "checks/stroke/drives.hpp"
#include "tests/checks/block_setup.hpp"
#include "tests/scene/motion/jack_presses.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <stdexcept>

namespace evenclose {

using test::BlockSetup;
using test::near;
using test::within;

namespace {

std::vector<Finding> drives_of(BlockSetup& blocks) {
    const Setup& setup = blocks.made();
    const Assembly assembly = assemble(setup);
    return judge(measure_drives(setup, assembly), setup, assembly);
}

Finding titled(const std::vector<Finding>& findings, const char* words) {
    for (const Finding& finding : findings) {
        if (shown(finding.title).find(words) != std::string::npos) {
            return finding;
        }
    }
    FAIL("no finding \"" << words << "\"");
    throw std::logic_error(words);
}

/// REFERENCE 1.6 on both jacks: Tr 20 x 4, friction 0.15, 20 kN: 41.1367 N m to raise.
BlockSetup with_threads(double friction = 0.15) {
    BlockSetup blocks;
    for (Jack& jack : blocks.press.jacks) {
        jack.kind = ScrewJack{{4, 1, ThreadForm::trapezoidal, friction, 0, 0}, 80, 20, 60, 10};
    }
    return blocks;
}

} // namespace

TEST_CASE("1.6 drives: torque at the motor behind a gear, and what its limit can lift [REFERENCE 1]") {
    BlockSetup blocks = with_threads();
    blocks.press.drives = {{"left motor", {0}, 10.0, 0.02, 20.0, 2500.0},
                           {"right motor", {1}, 10.0, 0.02, 20.0, 1500.0}};
    blocks.press.platen.mass_kg = 60;
    const Setup& setup = blocks.made();
    const DrivesMeasure measure = measure_drives(setup, assemble(setup));
    REQUIRE(measure.drives.size() == 2);
    const DrivePoint& closed = measure.drives[0].points.back();
    CHECK(near(closed.at.mm, 100, 1e-9));
    CHECK(near(closed.out_mm, 100, 1e-9));
    CHECK(closed.rate == 4);
    CHECK(near(closed.at_rated, 41136.7 / 20, 0.05));
    CHECK(near(*closed.can_lift_N, 20000 * 2500 / (41136.7 / 20), 1));
    CHECK(within(*closed.at_weight, closed.at_rated * (60 * 9.80665 / 2) / 20000, 1e-9));
    CHECK(within(*measure.seconds_to_close, 100 / (10.0 / 20 * 4), 1e-9));
    const std::vector<Finding> findings = judge(measure, setup, assemble(setup));
    CHECK(titled(findings, "left motor can close").verdict == Verdict::go);
    const Finding weak = titled(findings, "right motor reaches its limit");
    CHECK(weak.verdict == Verdict::marginal);
    CHECK(near(*weak.value, 20000 * 1500 / (41136.7 / 20), 1));
    CHECK(shown(weak.remedy).find("1.37 times") != std::string::npos);
    CHECK(titled(findings, "Takes 50 s to close").verdict == Verdict::go);
    blocks.press.drives[1].gear_ratio *= 1.3713; // what it says is enough
    CHECK(titled(drives_of(blocks), "right motor can close").verdict == Verdict::go);
}

TEST_CASE("1.6, 2.2, 2.7, 2.9 jacks: what each asks over its travel is told without a drive too [REFERENCE 1, 2]") {
    BlockSetup blocks = with_threads();
    const DrivesMeasure screws = measure_drives(blocks.made(), assemble(blocks.made()));
    REQUIRE(screws.jacks.size() == 2);
    for (const JackPoint& point : screws.jacks[0].points) {
        CHECK(near(point.effort, 41136.7, 0.05));
        CHECK(point.rate == 4);
        CHECK(near(point.out_mm, point.at.mm, 1e-9));
    }
    CHECK(shown(titled(drives_of(blocks), "for its rated").title) ==
          "left jack takes 41.1 N m at its screw for its rated 20 kN");
    blocks.press.jacks[1].rated_load_N = 30000;
    CHECK(titled(drives_of(blocks), "for its rated").bodies == std::vector<std::string>{"right jack"});

    ScissorJack scissor; // 2.2 when it stands 240 between the pins: rise 16/3 a turn
    scissor.arm_mm = 200;
    scissor.base_height_mm = 30;
    scissor.head_height_mm = 30;
    scissor.thread = {2, 1, ThreadForm::square, 0.15, 0, 0};
    scissor.screw_diameter_mm = 20;
    scissor.link_width_mm = 24;
    scissor.link_depth_mm = 40;
    scissor.foot_size_mm = scissor.head_size_mm = {100, 80};
    for (Jack& jack : blocks.press.jacks) {
        jack.kind = scissor; // closed 300: 240 between the pins
        jack.stroke_mm = 120;
        jack.rated_load_N = 3000;
    }
    const DrivesMeasure scissors = measure_drives(blocks.made(), assemble(blocks.made()));
    const std::vector<JackPoint>& points = scissors.jacks[0].points;
    CHECK(within(points.front().rate, 16.0 / 3, 1e-9));
    CHECK(points.back().rate < points.front().rate); // slower the higher
    CHECK(points.back().effort < points.front().effort);
    CHECK(shown(titled(drives_of(blocks), "for its rated").title).find("when closed, and up to") != std::string::npos);

    for (Jack& jack : blocks.press.jacks) {
        jack.kind = CylinderJack{{80, 45}, 100, 70, 15};
        jack.rated_load_N = 80425; // 2.7: 16 MPa on a bore of 80
    }
    const DrivesMeasure rams = measure_drives(blocks.made(), assemble(blocks.made()));
    CHECK(near(rams.jacks[0].points.back().effort, 16, 1e-3));
    CHECK(near(rams.jacks[0].points.back().rate, 1000 / 5026.548, 1e-6));
    CHECK(rams.jacks[0].pumped);
    CHECK(titled(drives_of(blocks), "for its rated").unit == "MPa");
}

TEST_CASE("drives: a motor that cannot even lift the platen, at which travel, without the mass that is not checked") {
    BlockSetup blocks = with_threads();
    const ScissorJack scissor = test::scissor_of(100, 80, ThreadForm::square);
    for (Jack& jack : blocks.press.jacks) { // closed 300: links 120 high
        jack.kind = scissor;
    }
    blocks.press.platen.mass_kg = 100;
    blocks.press.drives = {{"left motor", {0}, 1.0, 0.01, 1.0, 5000.0}, {"right motor", {1}, 1.0, 0.01, 1.0, 1000.0}};
    // REFERENCE 2: P = W w / h on each of two nuts; w = sqrt(400^2 - 120^2).
    const double pull = 50 * 9.80665 * std::sqrt(160000.0 - 14400) / 120;
    const double torque = 2 * thread_raising_torque(square_screw(16, 2, 1, 0.15), pull);
    const Finding stalls = titled(drives_of(blocks), "right motor stalls");
    CHECK(stalls.verdict == Verdict::no_go);
    CHECK(within(*stalls.value, torque, 1e-9));
    CHECK(stalls.travel->from.mm == 0); // hardest when low
    CHECK(titled(drives_of(blocks), "left motor reaches").verdict == Verdict::marginal);
    blocks.press.platen.mass_kg.reset();
    // By size and material: 1000 x 300 x 40 of steel at 7850 kg/m3 (REFERENCE 5e) is 94.2 kg.
    blocks.press.platen.material = "steel";
    CHECK(within(*titled(drives_of(blocks), "right motor stalls").value, torque * 94.2 / 100, 1e-9));
    blocks.press.platen.material = "moonstone";
    blocks.press.drives[0].limit = 1e6;
    const Finding unknown = titled(drives_of(blocks), "dead weight was not checked");
    CHECK(unknown.verdict == Verdict::not_checked);
    CHECK(unknown.remedy.find("mass") != std::string::npos);
    blocks.press.drives[0].limit.reset();
    CHECK(titled(drives_of(blocks), "left motor is strong enough was not").verdict == Verdict::not_checked);
}

TEST_CASE("drives: one motor for both, by a link shaft or by itself, carries both, two on one train share") {
    BlockSetup blocks = with_threads();
    blocks.press.drives = {{"motor", {0}, 1.0, 0.02, 1.0, 1e6}};
    blocks.press.link_shafts = {{"shaft", 0, 1, {RoundShaft{20}, 800, 79300, {}}, {}}};
    const auto torque = [&] {
        const Setup& setup = blocks.made();
        return measure_drives(setup, assemble(setup)).drives[0].points.back().at_rated;
    };
    CHECK(near(torque(), 2 * 41136.7, 0.1));
    blocks.press.link_shafts.clear();
    blocks.press.drives[0].jacks = {0, 1};
    CHECK(near(torque(), 2 * 41136.7, 0.1));
    blocks.press.drives = {{"left", {0}, 1.0, 0.02, 1.0, 1e6}, {"right", {1}, 1.0, 0.02, 1.0, 1e6}};
    blocks.press.link_shafts = {{"shaft", 0, 1, {RoundShaft{20}, 800, 79300, {}}, {}}};
    CHECK(near(torque(), 41136.7, 0.1));
}

TEST_CASE("2.7, 2.9 drives: a pump gives one pressure to all, a hose lifts less the higher it stands [REFERENCE 2]") {
    BlockSetup blocks;
    for (Jack& jack : blocks.press.jacks) {
        jack.kind = CylinderJack{{80, 45}, 100, 60, 10};
        jack.rated_load_N = 80000;
    }
    blocks.press.drives = {{"pump", {0, 1}, 1e5, 0.05, 1.0, 16.0}};
    const Setup& setup = blocks.made();
    const DrivesMeasure measure = measure_drives(setup, assemble(setup));
    CHECK(near(*measure.drives[0].points.front().can_lift_N, 80425, 0.5)); // 2.7: bore 80 at 16 MPa
    CHECK(near(measure.drives[0].points.back().at_rated, 16 * 80000 / 80425.0, 1e-4));
    CHECK(titled(judge(measure, setup, assemble(setup)), "Only a valve holds up").verdict == Verdict::marginal);

    BlockSetup hoses;
    for (Jack& jack : hoses.press.jacks) {
        jack.closed_height_mm = 10;
        jack.stroke_mm = 80;
        jack.foot_mm.z = 290;
        jack.rated_load_N = 20000;
        jack.kind = HoseJack{{100, 800}, 0};
    }
    hoses.press.head_underside_z_mm = 540; // closes after 40: the hose stands 50 high
    hoses.press.drives = {{"compressor", {0, 1}, 1e6, 0.05, 1.0, 0.5}};
    const Setup& pressed = hoses.made();
    const DriveRun run = measure_drives(pressed, assemble(pressed)).drives[0];
    CHECK(near(*run.points.front().can_lift_N, 56548.7, 0.1)); // 2.9: h 10
    CHECK(near(*run.points.back().can_lift_N, 31415.9, 0.1));  // 2.9: h 50
    CHECK(run.hose);
}

TEST_CASE("1.1, 1.2 drives: a load that only the collar holds is told, a thread that runs down as well") {
    BlockSetup blocks = with_threads();
    CHECK(titled(drives_of(blocks), "The threads hold").verdict == Verdict::go);
    for (Jack& jack : blocks.press.jacks) {
        jack.kind = ScrewJack{{8, 2, ThreadForm::square, 0.08, 0.08, 40}, 80, 32, 60, 10};
    }
    const Finding collar = titled(drives_of(blocks), "Only the friction of the collar holds up left jack, right jack");
    CHECK(collar.verdict == Verdict::marginal);
    std::get<ScrewJack>(blocks.press.jacks[1].kind).thread.collar_friction = 0;
    CHECK(titled(drives_of(blocks), "Nothing holds up right jack").verdict == Verdict::marginal);
    blocks.press.jacks[0].kind = ScrewJack{{.lead_mm = 4}, 80, 30, 60, 10};
    const Finding silent = titled(drives_of(blocks), "was not checked");
    CHECK(silent.verdict == Verdict::not_checked);
    CHECK(silent.bodies == std::vector<std::string>{"left jack"});
}

} // namespace evenclose
