// Sections and the sight of bodies as state: what keys and menus do to it.
#include "tests/viewer/app/small_press.hpp"
#include "tests/within.hpp"
#include "viewer/app/apply.hpp"
#include "viewer/render/frame_of.hpp"
#include "viewer/ui/closely_slips.hpp"
#include "viewer/ui/picture_frame.hpp"
#include "viewer/ui/section_handle.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

using namespace evenclose;
using namespace evenclose::test;

namespace {

App with_press() {
    App app;
    app.assembly = small_press();
    app.setup = std::make_shared<const Setup>();
    app.stage = Stage::checked;
    app.results = small_results();
    app.camera = camera_for(*app.assembly, "corner", 1.6);
    return app;
}

void see(App& app, SeeBody::How how, const char* body) { evenclose::apply(app, CloselyIntent{SeeBody{how, body}}); }

bool is_drawn(const App& app, const std::string& name) {
    const Frame frame = picture_frame(app, {}, 1, false);
    return std::any_of(frame.bodies.begin(), frame.bodies.end(),
                       [&](const DrawnBody& body) { return app.assembly->bodies[body.body].name == name; });
}

} // namespace

TEST_CASE("sections go across X, Y, Z, off, through the press's middle, the side towards the viewer taken away") {
    App app = with_press();
    for (const Axis axis : {Axis::x, Axis::y, Axis::z}) {
        evenclose::apply(app, CloselyIntent{StepSection{}});
        REQUIRE(app.closely.section);
        CHECK(app.closely.section->axis == axis);
        CHECK(seen_from(*app.closely.section, app.camera));
    }
    // From z = 0, the post's foot, to 1200, its top.
    CHECK(app.closely.section->at_mm == 600);
    CHECK(app.closely.reach_mm.high_mm.z == 1200);
    evenclose::apply(app, CloselyIntent{StepSection{}});
    CHECK(!app.closely.section);
    // From behind it is the other side.
    app.camera = camera_for(*app.assembly, "back", 1.6);
    evenclose::apply(app, CloselyIntent{StepSection{}});
    evenclose::apply(app, CloselyIntent{StepSection{}});
    CHECK(app.closely.section->flipped);
    CHECK(seen_from(*app.closely.section, app.camera));
    evenclose::apply(app, CloselyIntent{FlipSection{}});
    CHECK(!seen_from(*app.closely.section, app.camera));
}

TEST_CASE("a section goes through the place that is looked at, so that it stays in sight") {
    App app = with_press();
    Finding shown;
    shown.at_mm = Vec3{137, -41, 260};
    app.shown = shown;
    for (const auto& [axis, at] : {std::pair{Axis::x, 137.0}, std::pair{Axis::y, -41.0}, std::pair{Axis::z, 260.0}}) {
        evenclose::apply(app, CloselyIntent{StepSection{}});
        REQUIRE(app.closely.section);
        CHECK(app.closely.section->axis == axis);
        CHECK(app.closely.section->at_mm == at);
    }
}

TEST_CASE("a section stays within the press, and nothing that is no number moves it") {
    App app = with_press();
    evenclose::apply(app, CloselyIntent{StepSection{}});
    const double low = app.closely.reach_mm.low_mm.x;
    const double high = app.closely.reach_mm.high_mm.x;
    CHECK(low == -550); // the head is 1100 long
    evenclose::apply(app, CloselyIntent{MoveSection{-1e6}});
    CHECK(app.closely.section->at_mm == low);
    evenclose::apply(app, CloselyIntent{MoveSection{1e6}});
    CHECK(app.closely.section->at_mm == high);
    evenclose::apply(app, CloselyIntent{SetSection{SectionCut{Axis::x, std::nan(""), false}}});
    CHECK(app.closely.section->at_mm == high);
    evenclose::apply(app, CloselyIntent{MoveSection{std::nan("")}});
    CHECK(app.closely.section->at_mm == high);
    const Frame frame = picture_frame(app, {}, 1, false);
    REQUIRE(frame.section);
    CHECK(frame.section->through_mm.x == high);
    // Without a press there is nothing to cut.
    App empty;
    evenclose::apply(empty, CloselyIntent{StepSection{}});
    CHECK(!empty.closely.section);
}

TEST_CASE(
    "hidden bodies are not drawn, ghosts are seen through, one alone hides the others, findings keep all of them") {
    App app = with_press();
    const auto findings = app.results->findings.size();
    see(app, SeeBody::How::hide, "left post");
    CHECK(!is_drawn(app, "left post"));
    CHECK(is_drawn(app, "head"));
    see(app, SeeBody::How::see_through, "head");
    for (const DrawnBody& body : picture_frame(app, {}, 1, false).bodies) {
        const bool head = app.assembly->bodies[body.body].name == "head";
        CHECK((body.colour.alpha < 1) == head);
    }
    CHECK(sight_words(app.closely.sight) == "Hidden: left post; seen through: head. Checked all the same.");
    see(app, SeeBody::How::see_through, "head");
    CHECK(app.closely.sight.ghosts.empty());
    see(app, SeeBody::How::alone, "bolt");
    CHECK(picture_frame(app, {}, 1, false).bodies.size() == 1);
    CHECK(is_drawn(app, "bolt"));
    CHECK(app.results->findings.size() == findings);
    // A finding about hidden bodies shows them as long as it is chosen.
    apply(app, ChooseFinding{0}); // bolt and platen foul
    CHECK(is_drawn(app, "platen"));
    CHECK(!is_drawn(app, "head"));
    apply(app, ClearChoice{});
    CHECK(!is_drawn(app, "platen"));
    evenclose::apply(app, CloselyIntent{SeeAllBodies{}});
    CHECK(picture_frame(app, {}, 1, false).bodies.size() == app.assembly->bodies.size());
    CHECK(sight_words(app.closely.sight).empty());
}

TEST_CASE(
    "keys act on the body that was clicked, without one they say what to do, what is hidden is not chosen any more") {
    App app = with_press();
    see(app, SeeBody::How::hide, "");
    CHECK(app.closely.sight.all_plain());
    CHECK(app.notice.find("Click a body first") == 0);
    evenclose::apply(app, CloselyIntent{PickBody{"no such thing"}});
    CHECK(app.closely.picked.empty());
    evenclose::apply(app, CloselyIntent{PickBody{"platen"}});
    apply(app, ChoosePart{"platen"});
    REQUIRE(app.shown);
    see(app, SeeBody::How::hide, "");
    CHECK(app.closely.sight.hidden == std::set<std::string>{"platen"});
    CHECK(!app.shown);
    CHECK(!app.part);
    CHECK(app.closely.picked.empty());
    CHECK(!is_drawn(app, "platen"));
    see(app, SeeBody::How::hide, "platen"); // once more: as it was
    CHECK(app.closely.sight.all_plain());
}

TEST_CASE("a press that is read anew keeps what is hidden, and forgets what is gone") {
    App app = with_press();
    see(app, SeeBody::How::hide, "left post");
    see(app, SeeBody::How::see_through, "bolt");
    evenclose::apply(app, CloselyIntent{OpenBodyMenu{{"bolt", 10, 10, {}}}});
    REQUIRE(app.closely.menu);
    evenclose::apply(app, CloselyIntent{StepSection{}});
    auto without = std::make_shared<Assembly>(*small_press());
    without->bodies.pop_back(); // the bolt
    app.assembly = without;
    look_again(app);
    CHECK(app.closely.sight.hidden == std::set<std::string>{"left post"});
    CHECK(app.closely.sight.ghosts.empty());
    CHECK(!app.closely.menu);
    CHECK(app.closely.section);
}

TEST_CASE("many hidden bodies are counted, not listed") {
    BodySight sight;
    for (const char* name : {"a", "b", "c", "d", "e"}) {
        sight.hidden.insert(name);
    }
    CHECK(sight_words(sight) == "Hidden: a, b and 3 more. Checked all the same.");
}

TEST_CASE("a drag takes the plane along its axis by what the hand goes on the screen, closed form, parallel") {
    // 1000 px are 2 * 2000 tan(0.25) mm high.
    Camera camera{{0, -2000, 0}, {0, 0, 0}, {0, 0, 1}, 0.5, true};
    const double mm_a_px = 4000 * std::tan(0.25) / 1000;
    CHECK(near(plane_dragged_by({Axis::x, 0, false}, camera, {}, 1000, {100, 30}), 100 * mm_a_px, 1e-6));
    CHECK(near(plane_dragged_by({Axis::z, 0, false}, camera, {}, 1000, {70, -40}), 40 * mm_a_px, 1e-6));
    // Seen end on, upward brings it nearer: nearer is -Y here, +Y from behind.
    CHECK(near(plane_dragged_by({Axis::y, 0, false}, camera, {}, 1000, {70, -40}), -40 * mm_a_px, 1e-6));
    camera.eye_mm.y = 2000;
    CHECK(near(plane_dragged_by({Axis::y, 0, false}, camera, {}, 1000, {70, -40}), 40 * mm_a_px, 1e-6));
    CHECK(near(plane_dragged_by({Axis::x, 0, false}, camera, {}, 1000, {100, 0}), -100 * mm_a_px, 1e-6));
    // Foreshortened by 60 degrees: half as many pixels a millimetre.
    camera = {{-2000 * std::sin(std::acos(0.5)), -1000, 0}, {0, 0, 0}, {0, 0, 1}, 0.5, true};
    CHECK(near(plane_dragged_by({Axis::x, 0, false}, camera, {}, 1000, {50, 0}), 50 * mm_a_px / 0.5, 1e-6));
    // In perspective by what a millimetre is at the place of the knob: twice as near, twice as large.
    camera = {{0, -2000, 0}, {0, 0, 0}, {0, 0, 1}, 0.5, false};
    CHECK(near(plane_dragged_by({Axis::x, 0, false}, camera, {0, -1000, 0}, 1000, {100, 0}), 50 * mm_a_px, 1e-3));
}
