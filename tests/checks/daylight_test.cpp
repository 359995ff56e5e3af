#include "checks/daylight/daylight.hpp"
#include "checks/phrase.hpp"
#include "tests/checks/block_setup.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

namespace evenclose {

using test::BlockSetup;
using test::near;

TEST_CASE("daylight: what is left over the loose sandwich") {
    BlockSetup blocks; // daylight 260, halves 80 and 70, ply 10: 100 left
    const DaylightMeasure measure = measure_daylight(blocks.made(), assemble(blocks.made()));
    CHECK(near(measure.daylight_mm, 260, 1e-9));
    CHECK(near(measure.sandwich_mm, 160, 1e-9));
    CHECK(near(measure.room_mm, 100, 1e-9));
    CHECK(judge(measure, blocks.setup).verdict == Verdict::go);
}

TEST_CASE("daylight: verdict at, just under and far under the loading clearance") {
    struct Row {
        double head_z_mm;
        Verdict verdict;
        double margin_mm;
    };
    const Row rows[] = {
        {515, Verdict::go, 0}, // room 15, the clearance asked for
        {514.9, Verdict::marginal, -0.1},
        {500, Verdict::marginal, -15}, // just goes in
        {499.9, Verdict::no_go, -15.1},
    };
    for (const Row& row : rows) {
        CAPTURE(row.head_z_mm);
        BlockSetup blocks;
        blocks.press.head_underside_z_mm = row.head_z_mm;
        const Finding finding = judge(measure_daylight(blocks.made(), assemble(blocks.made())), blocks.setup);
        CHECK(finding.verdict == row.verdict);
        CHECK(near(*finding.margin, row.margin_mm, 1e-9));
        CHECK(finding.remedy.empty() == (row.verdict == Verdict::go));
    }
    BlockSetup blocks;
    blocks.press.head_underside_z_mm = 480;
    const Finding finding = judge(measure_daylight(blocks.made(), assemble(blocks.made())), blocks.setup);
    CHECK(shown(finding.title) == "The mold with its flat stack is 20 mm too tall for the daylight");
    CHECK(shown(finding.remedy).find("35 mm lower") != std::string::npos); // 20 to go in, 15 of clearance
}

TEST_CASE("daylight: the flat stack counts, not the pressed one") {
    BlockSetup blocks;
    blocks.mold.stack.squeeze_mm = 2;   // pressed 8
    blocks.mold.stack.glue_line_mm = 0; // loose 10
    CHECK(near(measure_daylight(blocks.made(), assemble(blocks.made())).loose_stack_mm, 10, 1e-12));

    // Halves that reach into each other take their full heights when a flat stack lies between.
    blocks.half(blocks.mold.upper, {-350, -100, 60}, {350, 100, 160});
    CHECK(near(measure_daylight(blocks.made(), assemble(blocks.made())).sandwich_mm, 80 + 10 + 100, 1e-9));
}

TEST_CASE("daylight: loaded by halves it is told of the stack that goes between them") {
    BlockSetup blocks;
    blocks.mold.loading = Loading::halves;
    const auto judged = [&] { return judge(measure_daylight(blocks.made(), assemble(blocks.made())), blocks.setup); };
    CHECK(shown(judged().title) == "100 mm of room over the flat stack between the halves when open");
    CHECK(judged().verdict == Verdict::go);
    blocks.press.head_underside_z_mm = 494; // 154 of daylight, 150 of halves: 4 for a stack of 10
    CHECK(shown(judged().title) == "Between the halves the flat stack lacks 6 mm of room");
    CHECK(judged().verdict == Verdict::no_go);
    CHECK(shown(judged().why).find("leave 4 mm for the flat stack") != std::string::npos);
}

TEST_CASE("daylight: a platen that parks out of level takes from it") {
    BlockSetup blocks;
    blocks.press.jacks[1].foot_mm.z = 8; // 8 over 800: 0.01, so the mold's end, 350 from the middle, is 3.5 nearer
    const DaylightMeasure measure = measure_daylight(blocks.made(), assemble(blocks.made()));
    CHECK(near(measure.daylight_mm, 260 - 4 - 3.5, 1e-9)); // the middle has risen by half of the 8
}

} // namespace evenclose
