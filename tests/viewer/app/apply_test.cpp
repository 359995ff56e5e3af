#include "viewer/app/apply.hpp"
#include "viewer/app/moving.hpp"

#include "checks/cavity/cavity.hpp"
#include "tests/viewer/app/let_pass.hpp"
#include "tests/viewer/app/small_press.hpp"
#include "tests/within.hpp"
#include "viewer/render/frame_of.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>

using namespace evenclose;
using test::let_pass;
using test::near;

namespace {

/// A window in which a set-up was opened, read and checked.
App checked_app() {
    App app;
    apply(app, OpenSetup{"oak.setup.json"});
    apply(app, SetupRead{app.generation, std::make_shared<const Setup>(), test::small_press(), {}});
    apply(app, Checked{app.generation, test::small_results()});
    return app;
}

} // namespace

TEST_CASE("a set-up is asked for, seen as soon as it is read, judged once it is checked") {
    App app;
    CHECK(app.stage == Stage::empty);
    const auto orders = apply(app, OpenSetup{"oak.setup.json"});
    REQUIRE(orders.size() == 1);
    const auto* job = std::get_if<StartJob>(&orders[0]);
    REQUIRE(job);
    CHECK(job->file == "oak.setup.json");
    CHECK(job->generation == app.generation);
    CHECK(app.stage == Stage::reading);
    CHECK(app.busy());

    apply(app, SetupRead{app.generation, std::make_shared<const Setup>(), test::small_press(), {"taken as mm"}});
    CHECK(app.stage == Stage::checking);
    CHECK(app.assembly);
    CHECK(app.notes.size() == 1);
    CHECK(!app.verdict());

    apply(app, Checked{app.generation, test::small_results()});
    CHECK(app.stage == Stage::checked);
    CHECK(app.verdict() == Verdict::no_go);
    CHECK(!app.busy());
}

TEST_CASE("nothing found for an older set-up is ever shown") {
    App app = checked_app();
    const Generation old = app.generation;
    apply(app, ChooseFinding{0});
    apply(app, OpenSetup{"pine.setup.json"});
    CHECK(!app.results);
    CHECK(!app.assembly);
    CHECK(!app.shown);
    CHECK(!app.finding);
    CHECK(app.travel.mm == 0.0);

    apply(app, SetupRead{old, std::make_shared<const Setup>(), test::small_press(), {}});
    CHECK(!app.assembly);
    apply(app, Checked{old, test::small_results()});
    CHECK(!app.results);
    apply(app, SetupFaulty{old, {"old fault"}});
    apply(app, JobFailed{old, "old failure"});
    CHECK(app.faults.empty());
    CHECK(app.stage == Stage::reading);
}

TEST_CASE("after a cancelled check the press stays, nothing is judged, and late news is not taken") {
    App app;
    apply(app, OpenSetup{"oak.setup.json"});
    const Generation asked = app.generation;
    apply(app, SetupRead{asked, std::make_shared<const Setup>(), test::small_press(), {}});
    const auto orders = apply(app, CancelCheck{});
    REQUIRE(orders.size() == 1);
    CHECK(std::holds_alternative<StopJob>(orders[0]));
    CHECK(app.stage == Stage::stopped);
    CHECK(app.assembly);
    apply(app, Checked{asked, test::small_results()});
    CHECK(!app.results);
    CHECK(!app.verdict());
    CHECK(apply(app, CancelCheck{}).empty());
}

TEST_CASE("part of a check is not shown as a whole one") {
    App app;
    apply(app, OpenSetup{"oak.setup.json"});
    apply(app, SetupRead{app.generation, std::make_shared<const Setup>(), test::small_press(), {}});
    auto part = std::make_shared<CheckResults>(*test::small_results());
    part->cancelled = true;
    apply(app, Checked{app.generation, part});
    CHECK(app.stage == Stage::stopped);
    CHECK(!app.results);
}

TEST_CASE("checking again reads the same file and keeps the view and the travel") {
    App app = checked_app();
    apply(app, SetTravel{{150.0}});
    Camera by_hand = app.camera;
    by_hand.eye_mm.x += 123.0;
    apply(app, MoveCamera{by_hand});
    const auto orders = apply(app, CheckAgain{});
    REQUIRE(orders.size() == 1);
    CHECK(std::get<StartJob>(orders[0]).file == "oak.setup.json");
    CHECK(app.stage == Stage::reading);
    CHECK(app.assembly); // on screen meanwhile
    auto shorter = std::make_shared<Assembly>(*test::small_press());
    shorter->last = {120.0};
    apply(app, SetupRead{app.generation, std::make_shared<const Setup>(), shorter, {}});
    CHECK(app.camera.eye_mm == by_hand.eye_mm);
    CHECK(app.travel.mm == 120.0); // no further than the changed press goes

    App empty;
    CHECK(apply(empty, CheckAgain{}).empty());
}

TEST_CASE("the travel stays between open and the last reachable, whatever is asked") {
    App app = checked_app();
    for (const auto& [asked, got] : {std::pair{-5.0, 0.0}, std::pair{0.0, 0.0}, std::pair{77.5, 77.5},
                                     std::pair{200.0, 200.0}, std::pair{1e9, 200.0}}) {
        apply(app, SetTravel{{asked}});
        CHECK(app.travel.mm == got);
    }
    apply(app, SetTravel{{50.0}});
    apply(app, SetTravel{{std::nan("")}});
    apply(app, SetTravel{{std::numeric_limits<double>::infinity()}});
    CHECK(app.travel.mm == 50.0);
    apply(app, MoveTravel{{-0.25}});
    CHECK(app.travel.mm == 49.75);

    App empty;
    apply(empty, SetTravel{{50.0}});
    CHECK(empty.travel.mm == 0.0);
}

TEST_CASE("choosing a finding sets the travel, lights its bodies and flies to its spot") {
    App app = checked_app();
    apply(app, Play{true});
    apply(app, ChooseFinding{0});
    CHECK(app.finding == std::size_t{0});
    CHECK(app.travel.mm == 70.0);
    CHECK(!app.playing.on);
    REQUIRE(app.shown);
    CHECK(app.shown->bodies == std::vector<std::string>{"bolt", "platen"});
    REQUIRE(app.flight);
    const Camera to = app.flight->to;
    let_pass(app, 1.0);
    CHECK(!app.flight);
    CHECK(app.camera.eye_mm == to.eye_mm);
    const Camera expected = camera_for(*app.assembly, app.results->findings[0], app.aspect);
    CHECK(app.camera.eye_mm == expected.eye_mm);
    CHECK(shown_slope(app).of == ShownSlope::Of::finding);
    CHECK(shown_slope(app).slope.x == 0.002);

    // Away from the finding's stretch of travel its slope is no longer the one to draw.
    apply(app, SetTravel{{150.0}});
    CHECK(shown_slope(app).of == ShownSlope::Of::nominal);

    apply(app, ClearChoice{});
    CHECK(!app.shown);
    CHECK(!app.finding);
    apply(app, ChooseFinding{99});
    CHECK(!app.finding);
}

TEST_CASE("next and previous go around the ledger") {
    App app = checked_app();
    const auto step = [&](int by) {
        apply(app, ChooseStep{by});
        return *app.finding;
    };
    CHECK(step(1) == 0);
    CHECK(step(1) == 1);
    CHECK(step(1) == 2);
    CHECK(step(1) == 0);
    CHECK(step(-1) == 2);
    apply(app, ClearChoice{});
    CHECK(step(-1) == 2);

    App empty;
    apply(empty, ChooseStep{1});
    CHECK(!empty.finding);
}

TEST_CASE("a band chosen at its worst is the finding of that pair, elsewhere it is the pair at that travel") {
    App app = checked_app();
    apply(app, ChoosePair{2, {}});
    CHECK(app.pair == std::size_t{2});
    CHECK(app.finding == std::size_t{0});
    CHECK(app.travel.mm == 70.0);

    let_pass(app, 1.0);
    const Camera before = app.camera;
    apply(app, ChoosePair{2, Travel{95.0}});
    CHECK(app.travel.mm == 95.0);
    CHECK(!app.finding);
    CHECK(!app.flight);
    CHECK(app.camera.eye_mm == before.eye_mm);
    REQUIRE(app.shown);
    CHECK(app.shown->bodies == std::vector<std::string>{"platen", "bolt"});

    apply(app, ChoosePair{0, {}}); // a pair of which the check says nothing by itself
    CHECK(!app.finding);
    CHECK(app.travel.mm == 40.0);
    CHECK(app.shown->bodies == std::vector<std::string>{"left post", "platen"});
    apply(app, ChoosePair{99, {}});
    CHECK(app.pair == std::size_t{0});
}

TEST_CASE("playing goes up to closed, rests, comes down, and on") {
    App app = checked_app();
    apply(app, Play{true});
    CHECK(app.moving());
    let_pass(app, 0.5 * kPlayWhole_s);
    CHECK(near(app.travel.mm, 100.0, 1.0));
    let_pass(app, 0.5 * kPlayWhole_s + 0.5 * kPlayRest_s);
    CHECK(app.travel.mm == 200.0);
    let_pass(app, 0.5 * kPlayRest_s + 0.25 * kPlayWhole_s);
    CHECK(near(app.travel.mm, 150.0, 2.0));
    let_pass(app, kPlayWhole_s);
    CHECK(app.travel.mm < 60.0); // came down, rested, on its way up again
    CHECK(app.playing.turn == 1.0);

    apply(app, Play{false});
    const double stays = app.travel.mm;
    let_pass(app, 1.0);
    CHECK(app.travel.mm == stays);
}

TEST_CASE("twice the speed is half the time, a single long pause of the clock does not fly past the end") {
    App app = checked_app();
    apply(app, SetPlaySpeed{2.0});
    apply(app, Play{true});
    let_pass(app, 0.25 * kPlayWhole_s);
    CHECK(near(app.travel.mm, 100.0, 1.0));
    apply(app, Elapse{3600.0});
    CHECK(app.travel.mm == 200.0);
    apply(app, SetPlaySpeed{0.0});
    apply(app, SetPlaySpeed{std::nan("")});
    CHECK(app.playing.times == 2.0);
}

TEST_CASE("playing starts towards the other end when it stands at one, without a stroke it does not start") {
    App app = checked_app();
    apply(app, SetTravel{{200.0}});
    apply(app, Play{true});
    let_pass(app, 0.25 * kPlayWhole_s);
    CHECK(near(app.travel.mm, 150.0, 1.0));

    auto stuck = std::make_shared<Assembly>(*test::small_press());
    stuck->last = {0.0};
    App other;
    apply(other, OpenSetup{"stuck.setup.json"});
    apply(other, SetupRead{other.generation, std::make_shared<const Setup>(), stuck, {}});
    apply(other, Play{true});
    CHECK(!other.playing.on);
}

TEST_CASE("views fly, a hand on the camera ends the flight, a new shape of the picture still shows the whole press") {
    App app = checked_app();
    apply(app, SetView{"front"});
    REQUIRE(app.flight);
    CHECK(app.view == "front");
    apply(app, Elapse{0.1});
    apply(app, MoveCamera{app.camera});
    CHECK(!app.flight);
    CHECK(app.view.empty());
    apply(app, SetView{"nowhere"});
    CHECK(!app.flight);

    apply(app, SetView{"left"});
    let_pass(app, 1.0);
    apply(app, SetPictureShape{0.7});
    CHECK(app.camera.eye_mm == camera_for(*app.assembly, "left", 0.7).eye_mm);
    apply(app, SetPictureShape{std::nan("")});
    CHECK(app.aspect == 0.7);
}

TEST_CASE("a map is shown only of what was measured, of the closed mold, and from above") {
    App app = checked_app();
    apply(app, SetSeeing{Seeing::gap});
    CHECK(app.seeing == Seeing::press); // nothing was measured
    CheckResults results = *app.results;
    auto cavity = std::make_shared<CavityMeasure>();
    results.cavity = cavity;
    apply(app, Checked{app.generation, std::make_shared<const CheckResults>(results)});
    CHECK(app.can_see(Seeing::gap));
    CHECK(app.can_see(Seeing::cut));
    CHECK_FALSE(app.can_see(Seeing::curvature));
    apply(app, SetSeeing{Seeing::gap});
    CHECK(app.seeing == Seeing::gap);
    CHECK(app.travel == app.last());
    CHECK(app.flight);
    apply(app, SetSeeing{Seeing::press});
    CHECK(app.view == "corner");
    cavity->not_measured = "the halves do not belong together as they are";
    CHECK_FALSE(app.can_see(Seeing::gap));
    apply(app, SetSeeing{Seeing::gap});
    CHECK(app.seeing == Seeing::press);
}

TEST_CASE("a magnified tilt shows the steepest that the jacks allow") {
    App app = checked_app();
    apply(app, SetTravel{{200.0}});
    CHECK(shown_slope(app).of == ShownSlope::Of::nominal);
    CHECK(near(shown_slope(app).slope.x, 0.001, 1e-12));
    apply(app, SetTiltMagnified{50.0});
    CHECK(shown_slope(app).of == ShownSlope::Of::steepest);
    CHECK(shown_slope(app).slope.x == 0.003);
    CHECK(std::abs(shown_slope(app).slope.y) == 0.002);
    apply(app, SetTiltMagnified{0.0});
    CHECK(app.tilt_magnified == 50.0);
}

TEST_CASE("a finding about a jack lights the jack's parts, one about nothing in the picture dims nothing") {
    auto press = std::make_shared<Assembly>(*test::small_press());
    press->bodies[0].name = "jack left body";
    press->bodies[3].name = "jack left screw";
    CHECK(bodies_named(*press, "jack left") == std::vector<std::string>{"jack left body", "jack left screw"});
    CHECK(bodies_named(*press, "jack left screw") == std::vector<std::string>{"jack left screw"});
    CHECK(bodies_named(*press, "jack").empty());

    auto results = std::make_shared<CheckResults>();
    results->findings.resize(2);
    results->findings[0].bodies = {"jack left"};
    results->findings[1].bodies = {"the cat"};
    App app;
    apply(app, OpenSetup{"oak.setup.json"});
    apply(app, SetupRead{app.generation, std::make_shared<const Setup>(), press, {}});
    apply(app, Checked{app.generation, results});
    apply(app, ChooseFinding{0});
    CHECK(app.shown->bodies.size() == 2);
    apply(app, ChooseFinding{1});
    CHECK(app.shown->bodies.empty());
}

TEST_CASE("daylight shrinks by the lift") {
    const auto press = test::small_press();
    CHECK(daylight_mm(*press, {0.0}) == 540.0);
    CHECK(daylight_mm(*press, {200.0}) == 340.0);
}

TEST_CASE("a set-up that cannot be used shows its faults, a job that broke off says why, quitting stops the job") {
    App app;
    apply(app, OpenSetup{"oak.setup.json"});
    apply(app, SetupFaulty{app.generation, {"a", "b"}});
    CHECK(app.stage == Stage::faulty);
    CHECK(app.faults.size() == 2);
    apply(app, OpenSetup{"pine.setup.json"});
    CHECK(app.faults.empty());
    apply(app, JobFailed{app.generation, "out of memory"});
    CHECK(app.stage == Stage::failed);
    CHECK(app.faults == std::vector<std::string>{"out of memory"});
    const auto orders = apply(app, Quit{});
    CHECK(app.quit);
    REQUIRE(orders.size() == 1);
    CHECK(std::holds_alternative<StopJob>(orders[0]));
}
