#include "checks/cavity/cavity.hpp"

#include "checks/phrase.hpp"
#include "tests/checks/block_setup.hpp"
#include "tests/checks/cavity/field_half.hpp"
#include "tests/within.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <functional>

namespace evenclose {

using test::BlockSetup;
using test::near;
using test::within;

namespace {

struct Asked {
    CavityMeasure measure;
    std::vector<Finding> findings;
};

Asked cavity_of(BlockSetup& blocks, const CavityRequest& request = {}) {
    const Setup& setup = blocks.made();
    const Assembly assembly = assemble(setup);
    Progress progress;
    Asked asked{measure_cavity(setup, assembly, request, progress), {}};
    asked.findings = judge(asked.measure, setup, assembly);
    return asked;
}

/// The block press with a deck mold of meshes in it: 600 x 180, stack 10, closed as drawn 160 seat to seat.
struct DeckSetup : BlockSetup {
    DeckSetup() {
        mesh_half(mold.lower, test::deck_lower());
        mesh_half(mold.upper, test::deck_upper(10));
        mold.shut_height_mm.reset();
    }
    static void mesh_half(MoldHalf& half, TriangleMesh mesh) {
        half.shape = MeshHalf{"half.stl", {}, {}, 0, false};
        half.mesh = test::share(std::move(mesh));
    }
};

TriangleMesh changed(TriangleMesh mesh, const std::function<Vec3(const Vec3&)>& change, bool turn_inside_out = false) {
    for (Vec3& v : mesh.vertices_mm) {
        v = change(v);
    }
    if (turn_inside_out) {
        for (TriangleCorners& t : mesh.triangles) {
            std::swap(t[1], t[2]);
        }
    }
    return mesh;
}

} // namespace

TEST_CASE("cavity: blocks that close on their stack go, and the platen's level is not in doubt") {
    BlockSetup blocks;
    const Asked asked = cavity_of(blocks);
    REQUIRE(asked.findings.size() == 1);
    CHECK(asked.findings.front().verdict == Verdict::go);
    CHECK(near(asked.measure.normal.least_mm, 0, 1e-5));
    CHECK(near(asked.measure.normal.greatest_mm, 0, 1e-5));
    CHECK(within(asked.measure.normal.faced_mm2, 700 * 200, 1e-6));
    CHECK(near(asked.measure.best.mm, 100, 1e-4)); // BlockSetup closes after 100 of travel
    // The lower face stands at 340 + 80 when open, 100 higher when closed.
    CHECK(near(asked.measure.to_world.apply(asked.measure.map.samples.front().at_mm).z, 520, 1e-9));
}

TEST_CASE("cavity: a deck's outline that is no rectangle bounds what is looked at") {
    BlockSetup blocks;
    blocks.mold.deck_outline_mm = {{-200, -50}, {200, -50}, {0, 50}}; // half of 400 x 100
    const Asked asked = cavity_of(blocks);
    CHECK(within(asked.measure.normal.faced_mm2, 20000, 0.01));
    CHECK(asked.measure.normal.unseen_mm2 == 0);
    for (const GapSample& sample : asked.measure.map.samples) {
        CHECK(sample.at_mm.y <= 50 - std::abs(sample.at_mm.x) / 2 + 5);
    }
    blocks.mold.deck_outline_mm = {{300, 0}, {500, 0}, {500, 50}, {300, 50}}; // stands three quarters off the mold
    CHECK(cavity_of(blocks).measure.normal.unseen_mm2 > 5000);
}

TEST_CASE("cavity: a shut height that is too great is told with the one that would do") {
    BlockSetup blocks;
    blocks.mold.shut_height_mm = 160.5;
    const Asked asked = cavity_of(blocks);
    const Finding& finding = asked.findings.front();
    CHECK(finding.verdict == Verdict::marginal); // over 0.3, within 0.6
    CHECK(near(*finding.value, 0.5, 1e-4));
    CHECK(shown(finding.title) == "The cavity is up to 0.5 mm too wide for the stack, 0.3 mm allowed");
    CHECK(shown(finding.remedy) == "Close the press to a shut height of 160 mm (0.5 mm less).");
    CHECK(near(asked.measure.best.mm - asked.measure.closed.mm, 0.5, 1e-4));

    blocks.mold.shut_height_mm = 158.9; // 1.1 too low: crushed
    const Asked crushed = cavity_of(blocks);
    CHECK(crushed.findings.front().verdict == Verdict::no_go);
    CHECK(near(*crushed.findings.front().value, -1.1, 1e-4));
    CHECK(shown(crushed.findings.front().remedy) == "Close the press to a shut height of 160 mm (1.1 mm more).");
}

TEST_CASE("cavity: a mold made as a true offset goes, one lifted straight up is too narrow on its slopes") {
    DeckSetup offset;
    CHECK(cavity_of(offset).findings.front().verdict == Verdict::go);

    // REFERENCE 9: straight up by 10 leaves 10 cos(slope): at the nose's end the slope is 0.6, so 8.57, 1.43 short.
    DeckSetup lifted;
    DeckSetup::mesh_half(lifted.mold.upper, test::field_half(
                                                test::even_steps(-300, 300, 190), test::even_steps(-90, 90, 64),
                                                [](double x, double y) {
                                                    return Vec3{x, y, test::deck_z(x, y) + 10};
                                                },
                                                160));
    const Asked asked = cavity_of(lifted);
    CHECK(asked.findings.front().verdict == Verdict::no_go);
    // The gap along the normal by bisection on the formulas of the two faces.
    double worst = 0;
    double least = 0;
    for (std::size_t i = 0; i < asked.measure.map.samples.size(); ++i) {
        const GapSample& sample = asked.measure.map.samples[i];
        if (sample.seen != Seen::faced) {
            continue;
        }
        const Vec3 normal = test::deck_normal(sample.at_mm.x, sample.at_mm.y);
        double low = 0;
        double high = 20;
        while (high - low > 1e-9) {
            const double gap = 0.5 * (low + high);
            const Vec3 p = sample.at_mm + gap * normal;
            (p.z < test::deck_z(p.x, p.y) + 10 ? low : high) = gap;
        }
        worst = std::max(worst, std::abs(static_cast<double>(sample.gap_mm) - low));
        least = std::min(least, low - 10);
    }
    CHECK(worst < 0.02); // facets 3 mm long at radius 250: sagitta 0.005 each, and their normals
    CHECK(near(asked.measure.normal.least_mm, least, 0.02));
    CHECK(least < -0.8);
    CHECK(asked.findings.front().remedy.find("offset by") != std::string::npos);
}

TEST_CASE("cavity: an even gap for another stack is told as that stack") {
    DeckSetup deck;
    deck.mold.stack.plies = {{14, "birch", Grain::along}};
    const Asked asked = cavity_of(deck);
    const Finding& finding = asked.findings.front();
    CHECK(finding.verdict == Verdict::no_go);
    CHECK(near(*finding.value, -4, 0.02));
    CHECK(finding.why.find("that of a stack of") != std::string::npos);
    CHECK(finding.remedy.find("out of the stack") != std::string::npos);
}

TEST_CASE("cavity: a half that stands wrong is told by how much and which way") {
    DeckSetup deck;
    const Pose fault{glm::mat3_cast(glm::angleAxis(glm::radians(0.2), Vec3{0, 0, 1})), {1.4, 0, 0}};
    DeckSetup::mesh_half(deck.mold.upper, placed(test::deck_upper(10), fault));
    const Asked asked = cavity_of(deck);
    const Finding& finding = asked.findings.front();
    CHECK(finding.verdict != Verdict::go);
    CHECK(finding.remedy.find("to the left (-X)") != std::string::npos);
    CHECK(finding.remedy.find("about the stroke") != std::string::npos);
}

TEST_CASE("cavity: an upper half in inches, mirrored, upside down or end for end is told exactly as that") {
    struct Row {
        const char* what;
        std::function<Vec3(const Vec3&)> change;
        bool turns_inside_out;
        HalfSlip slip;
        const char* says;
    };
    const Row rows[] = {
        {"in inches", [](const Vec3& p) { return p / 25.4; }, false, HalfSlip::unit,
         "The upper half is 25.4 times too small against the lower: it seems to be in inches"},
        {"in metres", [](const Vec3& p) { return p / 1000.0; }, false, HalfSlip::unit,
         "The upper half is 1000 times too small against the lower: it seems to be in metres"},
        {"in mm, read as cm", [](const Vec3& p) { return p * 10.0; }, false, HalfSlip::unit,
         "The upper half is 10 times too large against the lower: it seems to be taken as centimetres and be in "
         "millimetres"},
        {"mirrored left to right",
         [](const Vec3& p) {
             return Vec3{-p.x, p.y, p.z};
         },
         true, HalfSlip::mirrored_x, "One half is mirrored: left and right (X) are exchanged between upper and lower"},
        {"mirrored front to back, triangles with it",
         [](const Vec3& p) {
             return Vec3{p.x, -p.y, p.z};
         },
         false, HalfSlip::mirrored_y, "One half is mirrored: front and back (Y) are exchanged between upper and lower"},
        {"upside down",
         [](const Vec3& p) {
             return Vec3{p.x, -p.y, 200 - p.z};
         },
         false, HalfSlip::upside_down_x,
         "The upper half is upside down: turned half round about X, its back faces the stack"},
        {"upside down the other way",
         [](const Vec3& p) {
             return Vec3{-p.x, p.y, 200 - p.z};
         },
         false, HalfSlip::upside_down_y,
         "The upper half is upside down: turned half round about Y, its back faces the stack"},
        {"end for end",
         [](const Vec3& p) {
             return Vec3{-p.x, -p.y, p.z};
         },
         false, HalfSlip::end_for_end, "The upper half stands end for end: turned half round about the stroke"},
    };
    for (const Row& row : rows) {
        CAPTURE(row.what);
        DeckSetup deck;
        DeckSetup::mesh_half(deck.mold.upper, changed(test::deck_upper(10), row.change, row.turns_inside_out));
        const Asked asked = cavity_of(deck);
        REQUIRE(asked.findings.size() == 1);
        CHECK(asked.measure.halves.slip == row.slip);
        CHECK(asked.findings.front().verdict == Verdict::no_go);
        CHECK(asked.findings.front().title == row.says);
        CHECK(!asked.findings.front().remedy.empty());
    }
}

TEST_CASE("cavity: tilt adds what it raises the deck's ends by, and the level that would do is told") {
    BlockSetup blocks;
    for (Jack& jack : blocks.press.jacks) {
        jack.rate_tolerance = 0.004; // 100 mm of travel: each jack 0.4 either way, so 0.8 over 800: 1 mrad
    }
    const Asked asked = cavity_of(blocks);
    REQUIRE(asked.findings.size() == 2);
    const Finding& tilted = asked.findings.back();
    // 1 mrad over half the mold's 700: 0.35 at its ends, cut to 99 % of the area: 0.343.
    CHECK(near(std::abs(tilted.value.value_or(0)), 0.343, 0.002));
    CHECK(near(asked.measure.tilted.greatest_mm, 0.35, 0.003));
    CHECK(tilted.verdict == Verdict::marginal);
    CHECK(tilted.remedy.find("Hold the platen level within 0.87 mrad") != std::string::npos); // 0.3 / 0.343
}

TEST_CASE("cavity: what the frame does to the halves comes in as a displacement field") {
    // The head bows up by 0.5 in the middle and by nothing at its ends, as a parabola over 700.
    BlockSetup blocks;
    CavityRequest request;
    request.upper = [](const Vec3& p) { return Vec3{0, 0, 0.5 * (1 - p.x * p.x / (350.0 * 350.0))}; };
    const Asked asked = cavity_of(blocks, request);
    CHECK(near(asked.measure.normal.greatest_mm, 0.5, 1e-3));
    CHECK(near(asked.measure.normal.least_mm, 0, 0.01));
    CHECK(near(asked.measure.normal.mean_mm, 0.5 * 2 / 3, 1e-3)); // mean of a parabola
}

TEST_CASE("cavity: halves that share no plan are not measured, and that is said") {
    BlockSetup blocks;
    BlockSetup::half(blocks.mold.upper, {400, 200, 90}, {1100, 400, 160});
    const Asked asked = cavity_of(blocks);
    REQUIRE(asked.findings.size() == 1);
    CHECK(asked.findings.front().verdict == Verdict::not_checked);
    CHECK(!asked.findings.front().value.has_value());
}

TEST_CASE("cavity: a deck larger than the upper half is measured where it can be, the rest is told as a share") {
    BlockSetup blocks;
    BlockSetup::half(blocks.mold.upper, {-350, -100, 90}, {350, 60, 160});
    blocks.mold.deck_size_mm = Vec2{700, 200};
    const Asked asked = cavity_of(blocks);
    const Finding& unseen = asked.findings.back();
    CHECK(unseen.verdict == Verdict::marginal);
    CHECK(near(unseen.value.value_or(0), 20, 0.5)); // 40 of 200
}

} // namespace evenclose
