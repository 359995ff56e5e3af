#include "scene/press/jack.hpp"

#include "scene/press/guide_limits.hpp"
#include "tests/scene/motion/jack_presses.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <string>

using namespace evenclose;
using namespace evenclose::test;

TEST_CASE("1.1, 1.4, 1.6 the law of a screw jack is that of its thread: form, starts, lead [REFERENCE 1]") {
    Jack jack = screw_at({0, 0});
    struct Row {
        const char* id;
        ScrewJack screw;
        double load_N, torque_Nmm, relative;
    };
    const Row rows[] = {
        {"1.1", {{8, 2, ThreadForm::square, 0.08, 0.08, 40}, 80, 32, 50, 12}, 6400, 26176.95, 2e-7},
        {"1.6", {{4, 1, ThreadForm::trapezoidal, 0.15, 0, 0}, 80, 20, 50, 12}, 20000, 41136.7, 2e-6},
        // 1.4: Mott gives the pitch diameter 1.3429 in; ours is major - pitch / 2 = 1.375: dearer by 2 %.
        {"1.4",
         {{6.35, 1, ThreadForm::acme, 0.15, 0, 0}, 80, 38.1, 50, 12},
         12500 * 4.4482216152605,
         1814.4 * 112.98483,
         0.025},
    };
    for (const Row& row : rows) {
        CAPTURE(std::string(row.id));
        jack.kind = row.screw;
        CHECK(knows_effort(jack));
        CHECK(fault_of(jack).empty());
        CHECK(within(effort(law_of(jack), 0, row.load_N), row.torque_Nmm, row.relative));
        CHECK(within(rate(law_of(jack), 0), row.screw.thread.lead_mm, 1e-15));
    }
    jack.kind = ScrewJack{{.lead_mm = 4}, 80, 30, 50, 12};
    CHECK_FALSE(knows_effort(jack)); // and no torque is made up for it
    CHECK(rate(law_of(jack), 0) == 4);
}

TEST_CASE("2.1, 2.2, 2.3, 2.4 a rhombus jack as told by its heights: span, rate and pull [REFERENCE 2]") {
    struct Row {
        double span, height, rate, pull;
    };
    const Row rows[] = {{380, 124.899960, 12.169740, 3.042435},
                        {320, 240, 5.333333, 1.333333},
                        {240, 320, 3, 0.75},
                        {160, 366.606056, 1.745743, 0.436436}};
    Jack jack = rhombus_at({0, 0}, 380);
    jack.stroke_mm = 300;
    const auto& scissor = std::get<ScissorJack>(jack.kind);
    for (const Row& row : rows) {
        CAPTURE(row.span);
        const double out = row.height - linkage_height_mm(jack, scissor, 0);
        CHECK(near(spread_mm(jack, scissor, out), row.span, 1e-5));
        CHECK(near(rate(law_of(jack), out), row.rate, 1e-5));
        // Two nuts, each with the pull: torque of one nut a newton from the same thread under 1 N.
        const PowerScrew screw = trapezoidal_screw(16, 2, 1, 0.15);
        CHECK(within(effort(law_of(jack), out, 1000), 2 * thread_raising_torque(screw, 1000 * row.pull), 2e-6));
    }
    CHECK(std::string(name_of(jack.kind)) == "scissor");
}

TEST_CASE("stages: height n L sin, base L cos, base pull n W cot [REFERENCE 2, by virtual work]") {
    Jack jack = rhombus_at({0, 0}, 380);
    auto& scissor = std::get<ScissorJack>(jack.kind);
    scissor.stages = 3;
    scissor.arm_mm = 300;
    jack.closed_height_mm = 50 + 3 * 300 * std::sin(0.3);
    jack.parked_mm = 0;
    jack.stroke_mm = 3 * 300 * (std::sin(1.0) - std::sin(0.3));
    CHECK(fault_of(jack).empty());
    for (const double angle : {0.3, 0.7, 1.0}) {
        CAPTURE(angle);
        const double out = 3 * 300 * (std::sin(angle) - std::sin(0.3));
        CHECK(near(spread_mm(jack, scissor, out), 300 * std::cos(angle), 1e-9));
        const PowerScrew screw = trapezoidal_screw(16, 2, 1, 0.15);
        CHECK(within(effort(law_of(jack), out, 1000), raising_torque(screw, 3 * 1000 / std::tan(angle)), 1e-9));
    }
}

TEST_CASE("jacks that cannot be built say what does not fit") {
    Jack scissor = rhombus_at({0, 0}, 380);
    scissor.stroke_mm = 400 - std::sqrt(400.0 * 400 - 390.0 * 390); // right to the top
    CHECK(fault_of(scissor).find("400 mm high at most") != std::string::npos);
    scissor.stroke_mm -= 0.01;
    CHECK(fault_of(scissor).empty());
    scissor.closed_height_mm = 50; // foot and head alone
    CHECK(fault_of(scissor).find("no height for the links") != std::string::npos);
    Jack hose = hose_at({0, 0});
    hose.stroke_mm = 85;
    CHECK(fault_of(hose).find("100 mm in diameter") != std::string::npos);
    Jack cylinder = cylinder_at({0, 0});
    std::get<CylinderJack>(cylinder.kind).cylinder.rod_mm = 80;
    CHECK_FALSE(fault_of(cylinder).empty());
    Jack screw = screw_at({0, 0});
    std::get<ScrewJack>(screw.kind).thread.lead_mm = 30; // one start: the pitch is as deep as the screw is thick
    CHECK_FALSE(fault_of(screw).empty());
    std::get<ScrewJack>(screw.kind).thread.starts = 4;
    CHECK(fault_of(screw).empty());
}

TEST_CASE("what bears on the platen: the head's least width, a hose's contact when flattest") {
    CHECK(head_width_mm(screw_at({0, 0})) == 50);
    CHECK(head_width_mm(rhombus_at({0, 0}, 380)) == 60);
    CHECK(head_width_mm(cylinder_at({0, 0})) == 60);
    CHECK(near(head_width_mm(hose_at({0, 0})), contact_width_mm({100, 300}, 15), 1e-12));
}

TEST_CASE("how much of a sleeve is on its post, as it comes and goes") {
    const Guide guide{"", {0, 0}, 20, 20.5, 40, 60, 10, 100, 400};
    struct Row {
        double face_z, engaged;
    };
    // The sleeve reaches from 10 below the face to 70 below it; the post from 100 to 400.
    const Row rows[] = {{110, 0},  {111, 1},  {140, 30}, {170, 60}, {300, 60},
                        {410, 60}, {440, 30}, {470, 0},  {600, 0},  {0, 0}};
    for (const Row& row : rows) {
        CAPTURE(row.face_z);
        CHECK(engaged_length_mm(guide, row.face_z) == row.engaged);
    }
}
