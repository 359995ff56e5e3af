#include "checks/print/print.hpp"

#include "checks/phrase.hpp"
#include "scene/mesh/shapes.hpp"
#include "tests/checks/block_setup.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <memory>

namespace evenclose {

using test::BlockSetup;
using test::near;
using test::within;

namespace {

std::vector<Finding> judged(BlockSetup& blocks) {
    const Setup& setup = blocks.made();
    const Assembly assembly = assemble(setup);
    Progress progress;
    return judge(
        measure_print(setup, assembly, measure_pressure(setup, assembly), measure_bend(setup, assembly, progress)),
        setup, assembly);
}

const Finding* with(const std::vector<Finding>& findings, const std::string& words) {
    const auto found = std::find_if(findings.begin(), findings.end(), [&](const Finding& finding) {
        return shown(finding.title).find(words) != std::string::npos;
    });
    return found == findings.end() ? nullptr : &*found;
}

/// The block press with its blocks as meshes of PLA.
struct Printed : BlockSetup {
    Printed() {
        mold.lower.shape = mold.upper.shape = MeshHalf{"half.stl", {}, {}, 0, false};
        mold.lower.material = mold.upper.material = "PLA";
        mold.deck_size_mm = Vec2{600, 150};
        mold.print = PrintJob{Vec3{250, 210, 220}, 0.2, 1.2, 24.0};
        setup.closing_force_N = 40000;
    }
};

} // namespace

TEST_CASE("14.1 mass of a print: volume 4 dm3, area 0.25 m2, wall 1.2 mm") {
    struct Row {
        const char* plastic;
        double wall_mm, fill, kg;
    };
    // REFERENCE 14.1
    for (const Row& row : {Row{"PLA", 1.2, 0.2, 1.2896}, Row{"PLA", 0, 0.2, 0.992}, Row{"PETG", 1.2, 0.2, 1.3208},
                           Row{"ABS", 1.2, 0.2, 1.0816}, Row{"PLA", 1.2, 0.3, 1.7484}}) {
        CAPTURE(row.plastic);
        CAPTURE(row.fill);
        const Plastic* plastic = find_plastic(row.plastic);
        REQUIRE(plastic != nullptr);
        CHECK(near(printed_mass_kg(4e6, 0.25e6, row.wall_mm, row.fill, plastic->density_kg_per_m3), row.kg, 1e-9));
    }
    // A wall thicker than the part is a solid part, no more.
    CHECK(near(printed_mass_kg(1e6, 6e4, 500, 0.2, 1240), 1.24, 1e-12));
    CHECK(find_plastic("pet-g") == find_plastic("PETG"));
    CHECK(find_plastic("oak") == nullptr);
}

TEST_CASE("14.2 pieces: 900 x 240 x 80 in 250 x 210 x 220 is 8 as it lies, 5 turned") {
    // As it lies 4 x 2 x 1; turned about Z 900 / 210 = 5 by 240 / 250 = 1.
    const Pieces turned = pieces_of({900, 240, 80}, {250, 210, 220});
    CHECK(turned.all() == 5);
    CHECK_FALSE(turned.as_it_lies);
    CHECK(turned.size_mm == Vec3{180, 240, 80});
    const Pieces lies = pieces_of({900, 240, 80}, {250, 210, 80}); // too flat a printer to stand anything
    CHECK(lies.all() == 5);
    const Pieces cube = pieces_of({900, 240, 80}, {210, 210, 210});
    CHECK(cube.all() == 5 * 2);
    CHECK(cube.as_it_lies);
    CHECK(pieces_of({250, 210, 220}, {250, 210, 220}).all() == 1); // exactly as large as the printer
    CHECK(pieces_of({500, 100, 300}, {250, 250, 100}).all() == 4);
    CHECK(pieces_of({220, 210, 250}, {250, 210, 220}).all() == 1); // stood on its end
}

TEST_CASE("14 crushing: what a fill of PLA bears, and less fill less") {
    const Plastic& pla = *find_plastic("PLA");
    CHECK(within(pla.crushes_at_MPa(0.2), 13.7, 1e-12)); // Sci. Rep. 15:11759, table 4, weakest pattern
    CHECK(within(pla.crushes_at_MPa(0.5), 36.4, 1e-12));
    CHECK(pla.crushes_at_MPa(0.1) < 0.5 * 13.7);
    CHECK(pla.crushes_at_MPa(0) == 0);
    for (double fill = 0; fill < 0.99; fill += 0.01) {
        CHECK(pla.crushes_at_MPa(fill) < pla.crushes_at_MPa(fill + 0.01));
    }
}

TEST_CASE("print: pieces with their joints, mass with its cost, and the fill against the jacks") {
    Printed printed;
    const std::vector<Finding> findings = judged(printed);
    const Finding* lower = with(findings, "lower half is printed");
    REQUIRE(lower != nullptr);
    // 700 x 200 x 80: three along X, as it lies.
    CHECK(shown(lower->title) ==
          "block mold lower half is printed in 3 pieces (3 x 1 x 1) of 233.33 mm x 200 mm x 80 mm");
    CHECK(shown(lower->why).find("Joints at X -116.67 mm, 116.67 mm in") != std::string::npos);
    CHECK(shown(lower->why).find("2 of the upright ones cross the deck") != std::string::npos);

    // Lower 700 x 200 x 80, upper 700 x 200 x 70.
    const auto kg = [](double x, double y, double z) {
        const double shell = 2 * (x * y + y * z + z * x) * 1.2;
        return 1240e-9 * (shell + 0.2 * (x * y * z - shell));
    };
    const double all = kg(700, 200, 80) + kg(700, 200, 70);
    const Finding* mass = with(findings, "kg of plastic");
    REQUIRE(mass != nullptr);
    CHECK(within(*mass->value, all, 1e-9));
    CHECK(shown(mass->title).find("costs") != std::string::npos);

    // 40 kN over 600 x 150: 0.444 MPa; a quarter of 13.7 is 3.425.
    const Finding* bears = with(findings, "bears");
    REQUIRE(bears != nullptr);
    CHECK(bears->verdict == Verdict::go);
    CHECK(within(*bears->value, 40000.0 / (600 * 150), 1e-12));
    CHECK(within(*bears->limit, 13.7 / 4, 1e-12));
    CHECK(shown(bears->title) ==
          "The closing force of 40 kN presses the deck with 0.44 MPa; a 20 % fill of PLA bears 3.42 MPa for long");

    printed.mold.deck_outline_mm = {{-100, 0}, {100, 0}, {0, 100}}; // 10 000 mm2
    const std::vector<Finding> outlined = judged(printed);
    CHECK(within(*with(outlined, "bears")->value, 4.0, 1e-12));
    printed.mold.deck_outline_mm.clear();
    printed.mold.deck_size_mm = Vec2{100, 80}; // 5 MPa: between a quarter and half
    const std::vector<Finding> hard = judged(printed);
    CHECK(with(hard, "bears")->verdict == Verdict::marginal);
    // 5 MPa x 4 = 20 = 13.7 + 22.7 (fill - 0.2) / 0.3: 28.3 %.
    CHECK(shown(with(hard, "bears")->remedy) == "Print with 29 % fill, or press with 27.4 kN at most.");
    printed.mold.print->fill = 0.1;
    CHECK(with(judged(printed), "bears")->verdict == Verdict::no_go);
}

TEST_CASE("print: without a stated closing force the jacks' rated load counts, less what they lift") {
    Printed printed;
    printed.setup.closing_force_N.reset();
    printed.press.platen.mass_kg = 100;
    const Setup& setup = printed.made();
    const Assembly assembly = assemble(setup);
    const std::vector<Finding> findings = judged(printed);
    const Finding* bears = with(findings, "bears");
    REQUIRE(bears != nullptr);
    // Two jacks of 20 kN; the platen's 100 kg and the mold half on it hang on them.
    const double lifted = moving_weights(setup, assembly).all_N();
    CHECK(lifted > 980);
    CHECK(within(*bears->value, (40000 - lifted) / (600 * 150), 1e-9));
    CHECK(shown(bears->title).starts_with("All that the jacks can give, "));
}

TEST_CASE(
    "print: a joint at the tightest radius is marginal where the plies are bent hard, and told where they are not") {
    Printed printed; // joints at -116.67 and 116.67
    const Setup& setup = printed.made();
    const Assembly assembly = assemble(setup);
    BendMeasure bend;
    bend.closed = assembly.closed;
    for (const double x : {-200.0, 0.0, 115.0}) {
        BendSample sample;
        sample.at_mm = {x, 20, 80};
        sample.face.known = true;
        sample.face.greatest = x == 115 ? 1.0 / 80 : 1.0 / 400;
        bend.lower.samples.push_back(sample);
    }
    bend.lower_to_world.translation_mm = {0, 0, 440};
    bend.with_grain = PlyBend{};
    bend.with_grain->radius_mm = 80;
    bend.with_grain->breaks = 0.01;
    const auto lower = [&](double strain) {
        bend.with_grain->strain = strain;
        const auto findings =
            judge(measure_print(setup, assembly, measure_pressure(setup, assembly), bend), setup, assembly);
        const Finding* finding = with(findings, "lower half is printed");
        REQUIRE(finding != nullptr);
        return *finding;
    };
    const Finding hard = lower(0.008); // eight tenths of what breaks it
    CHECK(hard.verdict == Verdict::marginal);
    CHECK(shown(hard.title).ends_with("; a joint runs 1.67 mm beside its tightest radius"));
    CHECK(shown(hard.why).ends_with("That at X 116.67 mm runs 1.67 mm beside the tightest radius of its face (80 mm at "
                                    "X 115 mm, Y 20 mm); 15 mm off is enough."));
    CHECK(shown(hard.remedy) == "Shift the joints by 13.5 mm towards +X: one end piece is then 246.83 mm long.");
    CHECK(hard.at_mm == Vec3{115, 20, 520});

    const Finding easy = lower(0.002);
    CHECK(easy.verdict == Verdict::go);
    CHECK(easy.remedy.empty());
    CHECK(shown(easy.why).ends_with("The nearest keeps 1.67 mm off the tightest radius of its face (80 mm at X 115 mm, "
                                    "Y 20 mm), which asks little of these plies."));
}

TEST_CASE("print: what is not stated is not checked and named, blocks are not printed") {
    BlockSetup blocks;
    CHECK(judged(blocks).front().verdict == Verdict::go);
    CHECK(shown(judged(blocks).front().title) == "Neither half is a mesh: nothing is printed");

    Printed printed;
    printed.mold.print.reset();
    REQUIRE(judged(printed).size() == 1);
    CHECK(judged(printed).front().verdict == Verdict::not_checked);
    CHECK(judged(printed).front().remedy.find("\"build_volume\"") != std::string::npos);

    printed.mold.print = PrintJob{};
    printed.mold.upper.material = "oak";
    const std::vector<Finding> nothing = judged(printed);
    REQUIRE(nothing.size() == 3);
    for (const Finding& finding : nothing) {
        CHECK(finding.verdict == Verdict::not_checked);
        CHECK_FALSE(finding.remedy.empty());
    }
    CHECK(with(nothing, "bears")->remedy.find("\"fill\"") != std::string::npos);
    CHECK(with(nothing, "bears")->remedy.find("upper half (PLA, PETG, ABS)") != std::string::npos);

    Printed open;
    auto holed = std::make_shared<TriangleMesh>(*open.mold.lower.mesh);
    holed->triangles.pop_back();
    open.mold.lower.mesh = holed;
    const std::vector<Finding> holes = judged(open);
    const Finding* mass = with(holes, "weighs");
    REQUIRE(mass != nullptr);
    CHECK(mass->verdict == Verdict::not_checked);
}

} // namespace evenclose
