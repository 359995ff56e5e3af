#include "checks/phrase.hpp"
#include "checks/stroke/stroke.hpp"
#include "tests/checks/block_setup.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

namespace evenclose {

using test::BlockSetup;
using test::near;

namespace {
Finding stroke_of(BlockSetup& blocks) {
    const Setup& setup = blocks.made();
    return judge(measure_stroke(setup, assemble(setup)), setup);
}
} // namespace

TEST_CASE("stroke: closes after daylight less shut height, with the rest in reserve") {
    BlockSetup blocks;
    const StrokeMeasure measure = measure_stroke(blocks.made(), assemble(blocks.made()));
    CHECK(near(measure.closed.mm, 100, 1e-9));
    CHECK(near(measure.end_of_stroke.mm, 150, 1e-9));
    CHECK(near(measure.reserve_mm, 50, 1e-9));
    CHECK(stroke_of(blocks).verdict == Verdict::go);
}

TEST_CASE("stroke: what ends first, the packer that helps, and the packer that does not fit") {
    struct Row {
        double right_stroke_mm;
        Verdict verdict;
        const char* title;
    };
    const Row rows[] = {
        {110, Verdict::go, "Closes after 100 mm of travel with 10 mm of stroke left"},
        {104, Verdict::marginal, "Closes with only 4 mm of stroke left, 10 mm asked for"},
        {93.5, Verdict::no_go, "right jack ends 6.5 mm before the cavity is closed"},
    };
    for (const Row& row : rows) {
        CAPTURE(row.right_stroke_mm);
        BlockSetup blocks;
        blocks.press.jacks[1].stroke_mm = row.right_stroke_mm;
        const Finding finding = stroke_of(blocks);
        CHECK(finding.verdict == row.verdict);
        CHECK(shown(finding.title) == row.title);
        CHECK(finding.bodies == std::vector<std::string>{"right jack"});
    }
    BlockSetup blocks;
    blocks.press.jacks[1].stroke_mm = 93.5;
    CHECK(shown(stroke_of(blocks).remedy) == "Put a packer of 16.5 mm under the lower half's seat; 83.5 mm of room "
                                             "over the sandwich is then left when open.");
    // A flat stack that stands high between deep halves leaves no room for the packer.
    blocks.half(blocks.mold.upper, {-350, -100, -5}, {350, 100, 160});
    CHECK(shown(stroke_of(blocks).remedy).find("11.5 mm too tall") != std::string::npos);
}

TEST_CASE("stroke: a slow or half-parked jack ends sooner") {
    BlockSetup blocks;
    blocks.press.jacks[0].parked_mm = 20;
    blocks.press.jacks[1].parked_mm = 20;
    const StrokeMeasure measure = measure_stroke(blocks.made(), assemble(blocks.made()));
    CHECK(near(measure.closed.mm, 80, 1e-9));
    CHECK(near(measure.end_of_stroke.mm, 130, 1e-9));
}

TEST_CASE("stroke: a platen that parks too high") {
    BlockSetup blocks;
    blocks.press.head_underside_z_mm = 480; // daylight 140, shut height 160
    const Finding finding = stroke_of(blocks);
    CHECK(finding.verdict == Verdict::no_go);
    CHECK(near(*finding.margin, -20, 1e-9));
    CHECK(shown(finding.remedy).find("20 mm lower") != std::string::npos);
}

} // namespace evenclose
