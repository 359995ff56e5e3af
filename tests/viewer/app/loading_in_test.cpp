#include "viewer/app/apply.hpp"
#include "viewer/app/moving.hpp"

#include "tests/checks/block_setup.hpp"
#include "tests/viewer/app/let_pass.hpp"
#include "tests/within.hpp"
#include "viewer/render/frame_of.hpp"
#include "viewer/ui/keys.hpp"

#include <GLFW/glfw3.h>

#include <doctest/doctest.h>
#include <glm/geometric.hpp>

#include <algorithm>

using namespace evenclose;
using test::BlockSetup;
using test::let_pass;
using test::near;

namespace {

App app_with(BlockSetup& blocks) {
    App app;
    apply(app, OpenSetup{"blocks.set-up.json"});
    auto setup = std::make_shared<const Setup>(blocks.made());
    apply(app, SetupRead{app.generation, setup, std::make_shared<const Assembly>(assemble(*setup)), {}, {}});
    return app;
}

Box box_of(const DrawnBody& body) { return bounds_of(*body.mesh, body.pose); }

/// The pieces that are drawn on their way, upper half last.
std::vector<DrawnBody> sliding_of(const App& app) {
    return sliding_pieces(*app.assembly, {app.loading_in->path.get(), app.loading_in->step, app.loading_in->gone_mm},
                          light_palette());
}

} // namespace

TEST_CASE("load-in is played: from outside into its place, then the press is drawn as it stands") {
    BlockSetup blocks;
    blocks.press.load_from = PressSide::front;
    App app = app_with(blocks);
    apply(app, SetTravel{{70}});
    const Camera before = app.camera;
    REQUIRE(app.can_load_in());
    apply(app, SetTiltMagnified{50});
    apply(app, LoadIn{});
    REQUIRE(app.loading_in);
    CHECK(shown_slope(app).of == ShownSlope::Of::nominal); // the mold lies on the platen as it is
    CHECK(app.travel.mm == 0);                             // the press is open
    CHECK(app.moving());
    std::vector<DrawnBody> pieces = sliding_of(app);
    REQUIRE(pieces.size() == 3); // lower half, flat stack, upper half
    for (const DrawnBody& piece : pieces) {
        CHECK(box_of(piece).high_mm.y < -150); // before the platen, which is 300 deep
    }
    // Lower half on the platen's face at 340, 80 high; the flat stack of 10 on it; the upper half, 70 high, on that.
    CHECK(near(box_of(pieces[0]).low_mm.z, 340, 1e-9));
    CHECK(near(box_of(pieces[1]).low_mm.z, 420, 1e-9));
    CHECK(near(box_of(pieces[2]).low_mm.z, 430, 1e-9));
    CHECK(near(box_of(pieces[2]).high_mm.z, 500, 1e-9));

    let_pass(app, 0.5 * kLoadStep_s);
    REQUIRE(app.loading_in);
    CHECK(near(app.loading_in->gone_mm, 0.5 * app.loading_in->path->distance_mm,
               0.01 * app.loading_in->path->distance_mm));
    const Frame frame =
        frame_of(*app.assembly, {.at = app.travel,
                                 .camera = app.camera,
                                 .sliding = SlidingMold{app.loading_in->path.get(), 0, app.loading_in->gone_mm}});
    CHECK(std::count_if(frame.bodies.begin(), frame.bodies.end(), [&](const DrawnBody& body) {
              return body.body < app.assembly->bodies.size() &&
                     app.assembly->bodies[body.body].part == Part::mold_lower;
          }) == 1); // on its way, and not in its place as well
    let_pass(app, 0.5 * kLoadStep_s + 0.5 * kLoadRest_s);
    REQUIRE(app.loading_in);
    pieces = sliding_of(app);
    CHECK(near(box_of(pieces[0]).centre_mm().y, 0, 1e-9)); // in its place
    let_pass(app, kLoadRest_s + 2);
    CHECK_FALSE(app.loading_in);
    CHECK(glm::distance(app.camera.eye_mm, before.eye_mm) < 1e-6); // and the eye is back
    CHECK_FALSE(app.moving());
}

TEST_CASE("load-in by halves: the upper half first, then the lower one, then the stack, what is to come is not seen") {
    BlockSetup blocks;
    blocks.press.load_from = PressSide::left;
    blocks.mold.loading = Loading::halves;
    App app = app_with(blocks);
    apply(app, LoadIn{});
    REQUIRE(app.loading_in);
    REQUIRE(app.loading_in->path->steps.size() == 3);
    for (std::size_t step = 0; step < 3; ++step) {
        CAPTURE(step);
        REQUIRE(app.loading_in);
        CHECK(app.loading_in->step == step);
        const std::vector<DrawnBody> pieces = sliding_of(app);
        CHECK(pieces.size() == step + 1);
        CHECK(box_of(pieces.back()).high_mm.x < -500); // outside, on the left
        for (std::size_t before = 0; before < step; ++before) {
            CHECK(near(box_of(pieces[before]).centre_mm().x, 0, 1e-9));
        }
        let_pass(app, kLoadStep_s + kLoadRest_s + 0.05);
    }
    CHECK_FALSE(app.loading_in);
}

TEST_CASE("load-in: space pauses it, Esc and the rail end it, without \"load_from\" there is none") {
    BlockSetup blocks;
    blocks.press.load_from = PressSide::right;
    App app = app_with(blocks);
    CHECK(std::holds_alternative<LoadIn>(*intent_of_character(app, U'l')));
    evenclose::apply(app, *intent_of_character(app, U'l'));
    REQUIRE(app.loading_in);
    let_pass(app, 1);
    evenclose::apply(app, *intent_of_key(app, GLFW_KEY_SPACE, 0));
    let_pass(app, 1); // the camera arrives
    const double gone = app.loading_in->gone_mm;
    CHECK(gone > 0);
    let_pass(app, 1);
    CHECK(app.loading_in->gone_mm == gone);
    CHECK_FALSE(app.moving());
    evenclose::apply(app, *intent_of_key(app, GLFW_KEY_SPACE, 0));
    let_pass(app, 0.5);
    CHECK(app.loading_in->gone_mm > gone);
    evenclose::apply(app, *intent_of_key(app, GLFW_KEY_ESCAPE, 0));
    CHECK_FALSE(app.loading_in);

    apply(app, LoadIn{});
    apply(app, SetTravel{{20}});
    CHECK_FALSE(app.loading_in);
    CHECK(app.travel.mm == 20);
    apply(app, LoadIn{});
    apply(app, OpenSetup{"other.set-up.json"});
    CHECK_FALSE(app.loading_in);

    BlockSetup silent;
    App without = app_with(silent);
    CHECK_FALSE(without.can_load_in());
    apply(without, LoadIn{});
    CHECK_FALSE(without.loading_in);
    App empty;
    apply(empty, LoadIn{});
    CHECK_FALSE(empty.loading_in);
}

TEST_CASE("the view of the way in shows the press and the mold outside of it, from whichever side") {
    for (const PressSide side : {PressSide::front, PressSide::back, PressSide::left, PressSide::right}) {
        CAPTURE(name_of(side));
        BlockSetup blocks;
        blocks.press.load_from = side;
        const Setup& setup = blocks.made();
        const Assembly assembly = assemble(setup);
        const LoadPath path = load_path(setup, assembly, side);
        const Camera camera = camera_for_loading(assembly, path, 1.5);
        const Vec3 ahead = camera.target_mm - camera.eye_mm;
        CHECK(glm::dot(ahead, path.along) > 0); // seen from where the mold comes from
        CHECK(camera.eye_mm.z > 600);
        for (const LoadPiece& piece : path.steps.front().pieces) {
            Pose outside = piece.seated;
            outside.translation_mm -= path.distance_mm * path.along;
            CHECK(glm::dot(bounds_of(*piece.mesh, outside).centre_mm() - camera.eye_mm, ahead) > 0);
        }
    }
}
