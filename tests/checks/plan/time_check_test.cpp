#include "checks/plan/time_check.hpp"

#include "tests/checks/block_setup.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <string>
#include <vector>

using namespace evenclose;
using namespace evenclose::test;

namespace {

/// Seven plies: six glue lines at 40 s, stacked in 2 min: 6 min a deck. One person, one opening.
struct TimedBlocks : BlockSetup {
    TimedBlocks() {
        mold.stack.plies.assign(7, {1.5, "birch", Grain::along});
        Glue glue;
        glue.name = "white glue";
        glue.open_time_s = 10 * 60;
        glue.closed_time_s = 15 * 60;
        glue.press_times = {{10, 7200}, {20, 3600}, {30, 2400}};
        mold.stack.glue = glue;
        CrewPace crew;
        crew.spread_s = 40;
        crew.stack_s = 120;
        crew.load_s = 90;
        crew.unload_s = 60;
        crew.close_s = 30;
        setup.crew = crew;
        setup.temperature_C = 20;
    }
    std::vector<Finding> judged() { return judge(measure_time(made())); }
    void openings(std::size_t count) {
        made();
        setup.openings.resize(count, setup.openings.front());
    }
};

const Finding* about(const std::vector<Finding>& findings, const std::string& words) {
    for (const Finding& finding : findings) {
        if (finding.title.find(words) != std::string::npos) {
            return &finding;
        }
    }
    return nullptr;
}

} // namespace

TEST_CASE("press time: the sheet's rows as they stand, in proportion between them, nothing beyond") {
    Glue glue;
    glue.press_times = {{10, 7200}, {20, 3600}, {30, 2400}};
    CHECK(press_time_s(glue, 10) == 7200);
    CHECK(press_time_s(glue, 20) == 3600);
    CHECK(press_time_s(glue, 30) == 2400);
    CHECK(within(*press_time_s(glue, 15), 5400, 1e-12));
    CHECK(within(*press_time_s(glue, 27.5), 2700, 1e-12));
    CHECK_FALSE(press_time_s(glue, 9.9));
    CHECK_FALSE(press_time_s(glue, 30.1));
    // REFERENCE 6: about twice as long each 10 degrees colder. On such a curve the straight line is never too short.
    Glue doubling;
    doubling.press_times = {{10, 7200}, {20, 3600}};
    for (double t = 10; t <= 20; t += 0.5) {
        CHECK(*press_time_s(doubling, t) >= 3600 * std::exp2((20 - t) / 10) - 1e-9);
    }
    CHECK_FALSE(press_time_s(Glue{}, 20));
}

TEST_CASE("lay-up against the glue's open time, worked by hand") {
    TimedBlocks blocks; // 6 x 40 s + 120 s = 360 s of 600
    const std::vector<Finding> easy = blocks.judged();
    const Finding* open =
        about(easy, "Spreading and stacking block mold takes 6 min; its glue may stay open for 10 min");
    REQUIRE(open != nullptr);
    CHECK(open->verdict == Verdict::go);
    CHECK(open->value == 360);
    CHECK(open->limit == 600);
    CHECK(open->margin == 240);
    blocks.mold.stack.glue->open_time_s = 400; // 90 % of it
    CHECK(about(blocks.judged(), "Spreading")->verdict == Verdict::marginal);
    blocks.mold.stack.glue->open_time_s = 300;
    const std::vector<Finding> late = blocks.judged();
    CHECK(about(late, "Spreading")->verdict == Verdict::no_go);
    // (0.8 x 300 - 120) / 6 = 20 s a line; 360 / 0.8 = 450 s = 7.5 min
    CHECK(about(late, "Spreading")->remedy.find("in 20 s or less") != std::string::npos);
    CHECK(about(late, "Spreading")->remedy.find("stays open for 7.5 min") != std::string::npos);
}

TEST_CASE("the first mold's wait against the closed time, worked by hand for one and three openings") {
    TimedBlocks blocks;
    // One opening: laid up at 6:00, loaded 7:30, pressure at 8:00: 2 min.
    CHECK(*measure_time(blocks.made()).wait_s == 120);
    // Three, one person: 6:00 laid up, 7:30 in; 13:30, 15:00; 21:00, 22:30; pressure at 23:00: 17 min of 15.
    blocks.openings(3);
    const TimeMeasure measure = measure_time(blocks.setup);
    CHECK(*measure.wait_s == 17 * 60);
    // With a helper: 6:00, 7:30 both; the third 13:30, 15:00; 15:30: 9.5 min. Two openings: 15:30 - 6:00 = 9.5 min too.
    CHECK(*measure.wait_with_helper_s == 9.5 * 60);
    CHECK(measure.openings_that_do == 2);
    const std::vector<Finding> findings = judge(measure);
    const Finding* wait = about(findings, "waits 17 min for the pressure; its glue allows 15 min");
    REQUIRE(wait != nullptr);
    CHECK(wait->verdict == Verdict::no_go);
    CHECK(wait->remedy.find("One more helper makes it 9.5 min, fill 2 openings only or take a glue that allows") == 0);
}

TEST_CASE("beyond the sheet's temperatures nothing is told of pressing, and no week is planned") {
    TimedBlocks blocks;
    blocks.setup.temperature_C = 5;
    const TimeMeasure measure = measure_time(blocks.made());
    CHECK_FALSE(measure.press_s);
    CHECK_FALSE(measure.plan);
    const std::vector<Finding> findings = judge(measure);
    const Finding* cold =
        about(findings, "At 5 C (41 F) the sheet of white glue tells no press time: its table begins at 10 C");
    REQUIRE(cold != nullptr);
    CHECK(cold->verdict == Verdict::not_checked);
    CHECK(about(findings, "Spreading") != nullptr); // what can be told is told
    CHECK(about(findings, "a week") == nullptr);
}

TEST_CASE("the week of one press, worked by hand, and what is missing is named") {
    TimedBlocks blocks;
    // Out 1 min, laid up 6, in 1.5, closed 0.5, pressed 60: 69 min a deck; eight hours: 8:00 empty: on at 8:08, then each 69
    // min: 9:17, 10:26, 11:35, 12:44, 13:53, 15:02, and out at 16:02, after hours. Next day out at 8:01, on 8:09, ... 15:03:
    // seven pressings a day, seven decks but for the last day's, which comes out on Monday: 35 a week.
    const TimeMeasure measure = measure_time(blocks.made());
    REQUIRE(measure.plan);
    CHECK(measure.schedule.decks_a_week == 35);
    const std::vector<Finding> findings = judge(measure);
    const Finding* week = about(findings, "35 decks a week; one more");
    REQUIRE(week != nullptr);
    CHECK(week->verdict == Verdict::go);
    CHECK(week->value == 35);
    CHECK(week->why.find("helper +") != std::string::npos);

    blocks.mold.stack.glue->closed_time_s.reset();
    const std::vector<Finding> half = blocks.judged();
    CHECK(about(half, "waits") == nullptr);
    REQUIRE(about(half, "Not all is known of time") != nullptr);
    CHECK(about(half, "Not all is known of time")->why == "Missing: \"closed_time\" of the glue in the mold's stack.");

    BlockSetup bare;
    const std::vector<Finding> nothing = judge(measure_time(bare.made()));
    REQUIRE(nothing.size() == 1);
    CHECK(nothing.front().verdict == Verdict::not_checked);
    CHECK(nothing.front().why ==
          "Missing: \"crew\" in the set-up, \"temperature\" in the set-up and \"press_times\" of the "
          "glue in the mold's stack.");
}
