// The bent frame in the window's state, and in the frame that is drawn from it.
#include "tests/checks/frame/portal_press.hpp"
#include "tests/within.hpp"
#include "viewer/app/apply.hpp"
#include "viewer/render/force_arrows.hpp"
#include "viewer/render/frame_of.hpp"

#include <doctest/doctest.h>

#include <algorithm>

using namespace evenclose;
using namespace evenclose::test;

namespace {

App checked_portal(bool with_frame) {
    PortalPress portal;
    portal.setup.closing_force_N = 30000;
    App app;
    app.setup = std::make_shared<const Setup>(portal.made());
    app.assembly = std::make_shared<const Assembly>(assemble(*app.setup));
    auto results = std::make_shared<CheckResults>();
    if (with_frame) {
        results->frame = std::make_shared<const FrameMeasure>(
            measure_frame(*app.setup, *app.assembly, measure_pressure(*app.setup, *app.assembly)));
    }
    app.results = results;
    app.stage = Stage::checked;
    return app;
}

} // namespace

TEST_CASE("the frame is shown bent at closed, where it was computed, and nowhere else") {
    App app = checked_portal(true);
    apply(app, ShowBent{true});
    REQUIRE(app.bent != nullptr);
    CHECK(app.travel.mm == app.last().mm);
    CHECK(shown_bent(app) == app.bent.get());
    CHECK(app.bent->magnified >= 1);
    apply(app, SetTravel{{1.0}});
    CHECK(shown_bent(app) == nullptr);
    apply(app, ShowBent{false});
    CHECK(app.bent == nullptr);
    App without = checked_portal(false);
    apply(without, ShowBent{true});
    CHECK(without.bent == nullptr);
    CHECK(without.travel.mm == 0);
}

TEST_CASE("bent bodies are drawn with their bent meshes, coloured by what they use of their strength") {
    App app = checked_portal(true);
    apply(app, ShowBent{true});
    FrameRequest request;
    request.at = app.travel;
    request.bent = app.bent.get();
    const Frame frame = frame_of(*app.assembly, request);
    const auto beam =
        std::find_if(frame.bodies.begin(), frame.bodies.end(), [](const DrawnBody& b) { return b.body == 1; });
    REQUIRE(beam != frame.bodies.end());
    CHECK(beam->mesh == app.bent->mesh[1]);
    CHECK(beam->colour.red == use_colour(app.bent->use[1]).red);
    // Lightness falls with use, so that a grey print tells too.
    double before = 101;
    for (double use = 0; use <= 1.2; use += 0.1) {
        const double now = lightness(use_colour(use));
        CHECK(now <= before);
        before = now;
    }
    CHECK(lightness(use_colour(0)) - lightness(use_colour(1)) > 50);
}

TEST_CASE("a part that is chosen is lit with a verdict by what it uses, what is no part of the frame is not chosen") {
    App app = checked_portal(true);
    apply(app, ChoosePart{"head beam"});
    REQUIRE(app.part);
    CHECK(*app.part == "head beam");
    REQUIRE(app.shown);
    CHECK(app.shown->bodies == std::vector<std::string>{"head beam"});
    CHECK(app.shown->verdict == Verdict::go);
    apply(app, ChoosePart{"left jack screw"});
    CHECK(*app.part == "head beam");
    apply(app, ClearChoice{});
    CHECK_FALSE(app.part);
    CHECK_FALSE(app.shown);
    App without = checked_portal(false);
    apply(without, ChoosePart{"head beam"});
    REQUIRE(without.shown);
    CHECK(without.shown->verdict == Verdict::not_checked);
    without.generation = 3;
    apply(without, Checked{3, app.results}); // the check came later: now it is known
    CHECK(without.shown->verdict == Verdict::go);
}

TEST_CASE("force arrows: one a jack under the platen, the head's over the middle of the pressure, as long as they are "
          "strong") {
    App app = checked_portal(true);
    CHECK_FALSE(shows_forces(app));
    apply(app, ShowBent{true});
    CHECK(shows_forces(app));
    const FrameMeasure& measure = *app.results->frame;
    const std::vector<ForceArrow> arrows = force_arrows(measure, *app.setup, *app.assembly, app.last());
    REQUIRE(arrows.size() == 3);
    CHECK(arrows[0].name == "left jack");
    CHECK(arrows[2].name == "head");
    CHECK(arrows[2].force_N == 30000);
    const auto length = [](const ForceArrow& arrow) { return arrow.to_mm.z - arrow.from_mm.z; };
    CHECK(within(length(arrows[0]) / length(arrows[2]), arrows[0].force_N / 30000, 1e-9));
    CHECK(within(arrows[0].force_N + arrows[1].force_N, 30000 + 100.0 * 100 * 60 * 7850e-9 * 9.80665,
                 1e-9)); // and the platen
    CHECK(near(arrows[2].from_mm.x, 0, 0.01));
    CHECK(near(arrows[2].from_mm.z, app.setup->press->head_underside_z_mm, 1e-9));
    // Jacks' arrows end under the closed platen.
    CHECK(near(arrows[0].to_mm.z, app.setup->press->head_underside_z_mm - 110 - 60, 1e-6));
    Frame frame;
    add_force_arrows(frame, arrows);
    CHECK(frame.lines.size() == 9);
}
