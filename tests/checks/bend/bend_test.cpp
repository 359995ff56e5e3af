#include "checks/bend/bend.hpp"

#include "checks/phrase.hpp"
#include "tests/checks/block_setup.hpp"
#include "tests/checks/cavity/field_half.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <functional>

namespace evenclose {

using test::BlockSetup;
using test::near;
using test::within;

namespace {

struct Asked {
    BendMeasure measure;
    std::vector<Finding> findings;
};

Asked bend_of(BlockSetup& blocks) {
    const Setup& setup = blocks.made();
    const Assembly assembly = assemble(setup);
    Progress progress;
    Asked asked{measure_bend(setup, assembly, progress), {}};
    asked.findings = judge(asked.measure, setup, assembly);
    return asked;
}

void mesh_half(MoldHalf& half, TriangleMesh mesh) {
    half.shape = MeshHalf{"half.stl", {}, {}, 0, false};
    half.mesh = test::share(std::move(mesh));
}

/// A deck mold 500 x 180 whose lower face is z = `face(x, y)` with unit normal `normal(x, y)`, the upper its true offset.
struct Pressed : BlockSetup {
    Pressed(const std::function<double(double, double)>& face, const std::function<Vec3(double, double)>& normal,
            double stack_mm, int along = 100, int across = 60) {
        mold.deck_size_mm = Vec2{440, 150};
        const auto lower = [&](double x, double y) { return Vec3{x, y, face(x, y)}; };
        const auto upper = [&](double x, double y) { return lower(x, y) + stack_mm * normal(x, y); };
        mesh_half(mold.lower, test::field_half(test::uneven_steps(-250, 250, along, 1),
                                               test::uneven_steps(-90, 90, across, 2), lower, 0));
        mesh_half(mold.upper, test::field_half(test::uneven_steps(-250, 250, along - 7, 3),
                                               test::uneven_steps(-90, 90, across + 5, 4), upper, 160));
        mold.shut_height_mm.reset();
    }
};

/// A crown along the deck of radius r.
Pressed crown(double r, double stack_mm) {
    return {[=](double x, double) { return 40 + std::sqrt(r * r - x * x) - std::sqrt(r * r - 250.0 * 250.0); },
            [=](double x, double) {
                return Vec3{x / r, 0, std::sqrt(1 - x * x / (r * r))};
            },
            stack_mm};
}

/// A trough across the deck of radius r: its axis runs along X.
Pressed trough(double r, double stack_mm) {
    return {[=](double, double y) { return 40 + r - std::sqrt(r * r - y * y); },
            [=](double, double y) {
                return Vec3{0, -y / r, std::sqrt(1 - y * y / (r * r))};
            },
            stack_mm};
}

std::vector<Ply> seven(double thickness_mm) {
    const auto ply = [&](Grain grain) { return Ply{thickness_mm, "birch", grain}; };
    using enum Grain;
    return {ply(along), ply(along), ply(across), ply(along), ply(across), ply(along), ply(along)};
}

TriangleMesh changed_away(TriangleMesh mesh) {
    for (Vec3& v : mesh.vertices_mm) {
        v.x += 5000;
    }
    return mesh;
}

const Finding* finding_with(const Asked& asked, const std::string& words) {
    const auto found = std::find_if(asked.findings.begin(), asked.findings.end(), [&](const Finding& finding) {
        return shown(finding.title).find(words) != std::string::npos;
    });
    return found == asked.findings.end() ? nullptr : &*found;
}

} // namespace

TEST_CASE("8.6, 8.7 spring-back: shares of curvature lost") {
    // REFERENCE 8.6 (n equal parallel plies: 1/n^2) and 8.7 (seven of 1.5 mm, plies 3 and 5 crossed).
    for (const int n : {2, 3, 4, 5, 7, 9}) {
        CAPTURE(n);
        PlyStack stack;
        stack.plies.assign(static_cast<std::size_t>(n), {1.5, "sugar maple", Grain::along});
        CHECK(within(spring_back(stack)->along, 1.0 / (n * n), 1e-12));
        CHECK(within(1 / (1 - spring_back(stack)->along), n * n / (n * n - 1.0), 1e-12));
    }
    PlyStack crossed;
    crossed.plies = seven(1.5);
    for (Ply& ply : crossed.plies) {
        ply.species = "maple"; // ET / EL 0.065
    }
    CHECK(within(spring_back(crossed)->along, 0.0160971, 5e-6));
    CHECK(within(spring_back(crossed)->across, 0.0498873, 5e-6));
    PlyStack trade; // 5 x 0.058 in + 2 x 0.050 in crossed
    for (const double inch : {0.058, 0.058, 0.050, 0.058, 0.050, 0.058, 0.058}) {
        trade.plies.push_back({inch * 25.4, "maple", inch == 0.050 ? Grain::across : Grain::along});
    }
    CHECK(within(spring_back(trade)->along, 0.0177701, 5e-6));
    trade.plies[2].species = "moon wood";
    CHECK_FALSE(spring_back(trade).has_value());
}

TEST_CASE("8 a ply's wood: E / (2 MOR) of the species, or what the shop has tried") {
    struct Row {
        const char* species;
        double radius_over_thickness;
    };
    // REFERENCE 8, from the Wood Handbook's table 5-3a.
    for (const Row& row : {Row{"maple", 57.8}, Row{"birch", 61.0}, Row{"beech", 57.8}, Row{"red oak", 63.1}}) {
        CAPTURE(row.species);
        const PlyWood wood = wood_of({1.5, row.species, Grain::along});
        REQUIRE(wood.breaks_along);
        CHECK(within(1 / (2 * *wood.breaks_along), row.radius_over_thickness, 2e-3));
        CHECK(*wood.breaks_across > *wood.breaks_along);
        CHECK_FALSE(wood.tried_along);
    }
    Ply tried{1.5, "", Grain::along};
    tried.bend_radius_mm = 75; // 8.1: strain 0.01
    CHECK(within(*wood_of(tried).breaks_along, 0.01, 1e-12));
    CHECK(wood_of(tried).tried_along);
    CHECK_FALSE(wood_of(tried).E_along_MPa.has_value());
    CHECK_FALSE(wood_of({1.5, "S235", Grain::along}).breaks_along.has_value()); // steel is no veneer
}

TEST_CASE("bend: a crown of radius 400 under seven plies, each at its own radius") {
    Pressed setup = crown(400, 10.5);
    setup.mold.stack.plies = seven(1.5);
    const Asked asked = bend_of(setup);
    REQUIRE(asked.measure.not_measured.empty());
    // On a crown the lower face is the tighter; ply 1's middle lies 0.75 above it.
    CHECK(within(asked.measure.tightest_mm, 400, 0.02));
    REQUIRE(asked.measure.with_grain);
    CHECK(asked.measure.with_grain->ply == 0);
    CHECK(within(asked.measure.with_grain->radius_mm, 400.75, 0.02));
    CHECK(within(asked.measure.with_grain->strain, 1.5 / (2 * 400.75), 0.02));
    // Across their grain only the cross-bands are bent: ply 3's middle lies 3.75 above the face.
    REQUIRE(asked.measure.across_grain);
    CHECK(asked.measure.across_grain->ply == 2);
    CHECK(within(asked.measure.across_grain->radius_mm, 403.75, 0.02));
    // A crown does not fold back: the upper half's hollow over it has a radius of 410.5.
    CHECK(within(asked.measure.fold, 10.5 / 410.5, 0.02));
    CHECK(asked.measure.doubly_mm2 == 0);
    CHECK(within(asked.measure.whole_mm2, 2 * 400 * std::asin(220 / 400.0) * 150, 0.02));
    CHECK(std::all_of(asked.findings.begin(), asked.findings.end(),
                      [](const Finding& f) { return f.verdict == Verdict::go; }));
    // 1.5 times 61.0 of R/t is 137 mm.
    const Finding* bent = finding_with(asked, "bent along its grain");
    REQUIRE(bent != nullptr);
    CHECK(within(*bent->limit, 1.5 * 60.96 * 1.5, 2e-3));
}

TEST_CASE("bend: a trough across the deck bends the lengthwise plies across their grain") {
    Pressed setup = trough(130, 10.5);
    setup.mold.stack.plies = seven(1.5);
    const Asked asked = bend_of(setup);
    REQUIRE(asked.measure.with_grain);
    // Hollow from below: the far, upper face is the tighter, radius 119.5. Cross-band 5 lies 3.75 below it.
    CHECK(asked.measure.with_grain->ply == 4);
    CHECK(within(asked.measure.with_grain->radius_mm, 119.5 + 3.75, 0.02));
    CHECK(asked.measure.across_grain->ply == 6);
    CHECK(within(asked.measure.across_grain->radius_mm, 119.5 + 0.75, 0.02));
    CHECK(within(asked.measure.fold, 10.5 / 130, 0.02));
    // 123 is above 91 (breaks) and below 137 (planned).
    const Finding* bent = finding_with(asked, "bent along its grain");
    REQUIRE(bent != nullptr);
    CHECK(bent->verdict == Verdict::marginal);
    CHECK(shown(bent->remedy).find("\"bend_radius\"") != std::string::npos);

    // Near the hollow lower face an offset is tighter than the face: ply 2 lies 2.25 above it.
    setup.mold.stack.plies[1].bend_radius_across_mm = 400;
    const Asked hollow = bend_of(setup);
    CHECK(hollow.measure.across_grain->ply == 1);
    CHECK(hollow.measure.across_grain->tried);
    CHECK(within(hollow.measure.across_grain->radius_mm, 130 - 2.25, 0.01));
    setup.mold.stack.plies[1].bend_radius_across_mm.reset();

    setup.mold.stack.plies[4].bend_radius_mm = 130; // tried: it cracks at 130
    const Asked cracked = bend_of(setup);
    CHECK(finding_with(cracked, "bent along its grain")->verdict == Verdict::no_go);
    setup.mold.stack.plies[2].bend_radius_mm = setup.mold.stack.plies[4].bend_radius_mm = 60;
    const Asked tried = bend_of(setup);
    CHECK(finding_with(tried, "bent along its grain")->verdict == Verdict::go);
}

TEST_CASE("bend: a hollow tighter than the stack folds back") {
    Pressed setup{[](double x, double) { return 60 - 20 * std::cos(x / 20); },
                  [](double x, double) {
                      const double slope = std::sin(x / 20);
                      return Vec3{-slope, 0, 1} / std::hypot(1.0, slope);
                  },
                  10.5, 500, 30};
    setup.mold.stack.plies = seven(1.5);
    setup.mold.stack.plies.insert(setup.mold.stack.plies.end(), 7, {1.5, "birch", Grain::along}); // 21 mm, radius 20
    const Asked asked = bend_of(setup);
    const Finding* fold = finding_with(asked, "folds back");
    REQUIRE(fold != nullptr);
    CHECK(fold->verdict == Verdict::no_go);
    CHECK(within(asked.measure.fold, 21.0 / 20.0, 0.05));
}

TEST_CASE("8.4 a dome of radius 1000, 200 wide: 0.5 % of stretch") {
    const double r = 1000;
    BlockSetup setup;
    const auto face = [=](double x, double y) { return 40 + std::sqrt(r * r - x * x - y * y) - 960; };
    for (const bool upper : {false, true}) {
        mesh_half(upper ? setup.mold.upper : setup.mold.lower,
                  test::field_half(
                      test::even_steps(-250, 250, 100), test::even_steps(-120, 120, 50),
                      [&](double x, double y) {
                          return Vec3{x, y, face(x, y)} +
                                 (upper ? 0.01 * Vec3{x, y, std::sqrt(r * r - x * x - y * y)} : Vec3{0.0});
                      },
                      upper ? 160 : 0));
    }
    setup.mold.shut_height_mm.reset();
    setup.mold.deck_size_mm = Vec2{480, 200};
    setup.mold.stack.plies.assign(7, {1.5, "birch", Grain::along});
    const Asked asked = bend_of(setup);
    // Over the middles of the grid's squares, a step less than the whole width.
    const double width = 200 - asked.measure.lower.grid.step_mm;
    CHECK(within(asked.measure.stretch, width * width / (8 * r * r), 0.03));
    CHECK(within(asked.measure.doubly_mm2, asked.measure.whole_mm2, 1e-9));
    const Finding* doubly = finding_with(asked, "curved both ways");
    REQUIRE(doubly != nullptr);
    CHECK(doubly->verdict == Verdict::marginal); // birch breaks at 0.82 %, a quarter of it is allowed
}

TEST_CASE("bend: an edge inside the deck is no curvature but a fault") {
    BlockSetup setup;
    const auto roof = [](double x, double) { return 60 - std::abs(x) * 0.5; };
    for (const bool upper : {false, true}) {
        mesh_half(upper ? setup.mold.upper : setup.mold.lower,
                  test::field_half(
                      test::even_steps(-250, 250, 100), test::even_steps(-90, 90, 36),
                      [&](double x, double y) {
                          return Vec3{x, y, roof(x, y) + (upper ? 10 : 0)};
                      },
                      upper ? 160 : -70));
    }
    setup.mold.shut_height_mm.reset();
    setup.mold.deck_size_mm = Vec2{440, 150};
    const Asked asked = bend_of(setup);
    CHECK(near(asked.measure.lower.creased_mm, 150, 6));
    CHECK(near(asked.measure.lower.crease_rad, 2 * std::atan(0.5), 1e-6));
    const Finding* crease = finding_with(asked, "sharp edge");
    REQUIRE(crease != nullptr);
    CHECK(crease->verdict == Verdict::no_go);
    CHECK(near(crease->at_mm->x, 0, 1e-6));
    setup.mold.deck_size_mm.reset();
    CHECK(finding_with(bend_of(setup), "sharp edge")->verdict == Verdict::marginal);
}

TEST_CASE("bend: flat blocks bend nothing, unknown wood is not checked and says what is missing") {
    BlockSetup blocks;
    const Asked flat = bend_of(blocks);
    REQUIRE(flat.findings.size() == 1);
    CHECK(shown(flat.findings.front().title) == "The forming faces are flat: nothing is bent");
    CHECK(flat.findings.front().verdict == Verdict::go);
    CHECK(within(flat.measure.whole_mm2, 700 * 200, 0.02)); // by the grid's whole squares

    Pressed setup = crown(400, 10.5);
    setup.mold.stack.plies = seven(1.5);
    setup.mold.stack.plies[3].species = "moon wood";
    const Asked asked = bend_of(setup);
    const Finding* unknown = finding_with(asked, "not known");
    REQUIRE(unknown != nullptr);
    CHECK(unknown->verdict == Verdict::not_checked);
    CHECK(shown(unknown->remedy).find("bend_radius") != std::string::npos);
    CHECK(finding_with(asked, "bent along its grain") != nullptr); // the others are checked all the same

    blocks.mold.upper.mesh = test::share(changed_away(*blocks.mold.upper.mesh));
    CHECK(bend_of(blocks).findings.front().verdict == Verdict::not_checked);
}

TEST_CASE("bend: the answer does not depend on which way the mold lies in the press") {
    Pressed setup = crown(400, 10.5);
    setup.mold.stack.plies = seven(1.5);
    const Asked straight = bend_of(setup);
    setup.setup.openings.front().turn_rad = 0.3;
    setup.setup.openings.front().at_mm = {20, -10};
    const Asked turned = bend_of(setup);
    CHECK(straight.measure.with_grain->radius_mm == turned.measure.with_grain->radius_mm);
    CHECK(straight.findings.front().at_mm != turned.findings.front().at_mm);
}

} // namespace evenclose
