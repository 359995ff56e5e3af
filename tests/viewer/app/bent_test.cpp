// The bent frame in the window's state, and in the frame that is drawn from it.
#include "tests/checks/frame/portal_press.hpp"
#include "viewer/app/apply.hpp"
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
