// The plan in the window: its life as a job, and its ways as marks on a diagram.
#include "tests/viewer/app/small_press.hpp"
#include "tests/within.hpp"
#include "viewer/app/apply.hpp"
#include "viewer/app/plan_job.hpp"
#include "viewer/app/plan_scatter.hpp"

#include <doctest/doctest.h>

#include <memory>

using namespace evenclose;
using test::within;

namespace {

OfferedChoice way(int openings, int molds, int people, double decks_a_week, double frame_mm) {
    OfferedChoice offer;
    offer.choice.openings = openings;
    offer.choice.molds = molds;
    offer.choice.people = people;
    offer.choice.decks = openings;
    offer.choice.decks_a_week = decks_a_week;
    offer.frame_height_mm = frame_mm;
    offer.stroke_mm = 140;
    offer.name = "way";
    return offer;
}

std::shared_ptr<const Plan> three_ways() {
    Plan plan;
    plan.fit.most = 1;
    plan.offered = {way(1, 1, 1, 35, 1220), way(1, 2, 1, 40, 1220), way(2, 4, 1, 80, 1447)};
    plan.offered[2].choice.change.raise_head_mm = 227;
    return std::make_shared<const Plan>(std::move(plan));
}

/// Not std::apply, which the alternatives of an intent find first.
std::vector<Order> tell(App& app, const Intent& intent) { return evenclose::apply(app, intent); }

App with_mold() {
    App app;
    apply(app, OpenSetup{"shop/oak.set-up.json"});
    auto setup = std::make_shared<Setup>();
    setup->file = "shop/oak.set-up.json";
    setup->press = std::make_shared<const Press>();
    Opening opening;
    opening.mold_file = "../molds/oak.mold.json";
    opening.mold = std::make_shared<const Mold>();
    setup->openings = {opening};
    app.setup = setup; // as read; its assembly is not needed here
    app.stage = Stage::checked;
    return app;
}

} // namespace

TEST_CASE("a plan is begun when its sheet is laid out, once, for the molds of the set-up named from where it stands") {
    App app = with_mold();
    const auto orders = apply(app, ShowSheet{Sheet::plan});
    REQUIRE(orders.size() == 1);
    const auto* start = std::get_if<StartPlan>(&orders.front());
    REQUIRE(start != nullptr);
    REQUIRE(start->request->basis.molds.size() == 1);
    CHECK(start->request->basis.molds.front().file == "molds/oak.mold.json");
    CHECK(app.planning.stage == Planning::Stage::running);
    CHECK(apply(app, ShowSheet{Sheet::none}).empty());
    CHECK(apply(app, ShowSheet{Sheet::plan}).empty()); // it is being made

    tell(app, PlanIntent{PlanMade{start->number, three_ways()}});
    CHECK(app.planning.stage == Planning::Stage::made);
    CHECK(app.planning.chosen == 2U);
    tell(app, PlanIntent{ChooseWay{1}});
    CHECK(app.planning.chosen == 1U);
    tell(app, PlanIntent{ChooseWay{3}}); // there is none
    CHECK(app.planning.chosen == 1U);
}

TEST_CASE("what an older plan brings is not taken, another set-up ends the work on it") {
    App app = with_mold();
    const auto first = std::get<StartPlan>(tell(app, PlanIntent{MakePlan{}}).front());
    const auto again = tell(app, PlanIntent{MakePlan{}});
    REQUIRE(again.size() == 2);
    CHECK(std::holds_alternative<EndPlan>(again.front()));
    tell(app, PlanIntent{PlanMade{first.number, three_ways()}});
    CHECK(app.planning.stage == Planning::Stage::running);
    tell(app, PlanIntent{PlanFailed{first.number, "old"}});
    CHECK(app.planning.stage == Planning::Stage::running);

    const auto orders = apply(app, OpenSetup{"elm.set-up.json"});
    REQUIRE(orders.size() == 2);
    CHECK(std::holds_alternative<EndPlan>(orders.back()));
    tell(app, PlanIntent{PlanMade{std::get<StartPlan>(again.back()).number, three_ways()}});
    CHECK(app.planning.plan == nullptr);
    CHECK(app.planning.stage == Planning::Stage::none);
}

TEST_CASE("a way is opened from the files on the disk: not while there is unsaved work, not without a choice") {
    App app = with_mold();
    const auto start = std::get<StartPlan>(tell(app, PlanIntent{MakePlan{}}).front());
    CHECK(tell(app, PlanIntent{OpenWay{}}).empty());
    tell(app, PlanIntent{PlanMade{start.number, three_ways()}});
    const auto orders = tell(app, PlanIntent{OpenWay{}});
    REQUIRE(orders.size() == 1);
    const auto* write = std::get_if<WritePlan>(&orders.front());
    REQUIRE(write != nullptr);
    CHECK(write->way == 2);
    CHECK(write->folder == std::filesystem::path("shop/plans"));
    app.documents.saved["shop/oak.set-up.json"] = std::make_shared<const std::string>("{}");
    app.documents.texts["shop/oak.set-up.json"] = std::make_shared<const std::string>("{ }");
    REQUIRE(app.documents.unsaved());
    CHECK(tell(app, PlanIntent{OpenWay{}}).empty());
}

TEST_CASE("ways as marks: shares of round axes, none over another, in the units that are shown") {
    const auto plan = three_ways();
    const PlanScatter scatter = plan_scatter(*plan, PlanAgainst::frame_height, UnitSystem::metric, 0.1, 0.1);
    REQUIRE(scatter.marks.size() == 3);
    // 35 to 80 in steps of 10: 30 to 90 with room at the round end. 1220 to 1447 in steps of 50: 1200 to 1450.
    CHECK(scatter.x.words == "decks a week");
    CHECK(scatter.x.ticks.front().second == "30");
    CHECK(scatter.x.ticks.back().second == "90");
    CHECK(within(scatter.marks[0].x, 5.0 / 60, 1e-12));
    CHECK(within(scatter.marks[2].x, 50.0 / 60, 1e-12));
    CHECK(scatter.y.words == "frame height, mm");
    CHECK(scatter.y.ticks.front().second == "1200");
    CHECK(within(scatter.marks[2].y, 247.0 / 250, 1e-12));
    CHECK(scatter.marks[0].beside == 0);
    CHECK(scatter.marks[1].beside == 1); // 1/12 off at the same height: less than a mark
    CHECK(scatter.marks[2].openings == "2");
    const PlanScatter inches = plan_scatter(*plan, PlanAgainst::frame_height, UnitSystem::inch, 0.01, 0.01);
    CHECK(inches.y.words == "frame height, in"); // 48.03 to 56.97
    CHECK(inches.y.ticks.front().second == "48");
    CHECK(within(inches.marks[2].y * 10 + 48, 1447 / 25.4, 1e-9)); // 48 to 58
    const PlanScatter people = plan_scatter(*plan, PlanAgainst::people, UnitSystem::metric, 0.1, 0.1);
    CHECK(people.y.ticks.size() == 3); // 0, 1, 2
    CHECK(people.marks[0].y == 0.5);
}

TEST_CASE("against what: only numbers that are known, a way's lines tell what it takes more") {
    const auto plan = three_ways();
    CHECK(known_against(*plan) == std::vector<PlanAgainst>{PlanAgainst::frame_height, PlanAgainst::people,
                                                           PlanAgainst::molds, PlanAgainst::stroke});
    CHECK(title_of(plan->offered[0]) == "1 opening, 1 mold, 1 person");
    CHECK(title_of(plan->offered[2]) == "2 openings, 4 molds, 1 person");
    const auto lines = way_lines(plan->offered[2], UnitSystem::metric);
    CHECK(lines[0].how_much == "80");
    CHECK(lines[2].what == "frame");
    CHECK(lines[2].how_much == "1447 mm, 227 mm more");
    CHECK(lines[3].how_much == "140 mm");
}
