// viewer/ui/picture_frame.hpp: what the picture shows of the state, as a frame. Pure, tested without a screen; also for
// pictures that are made in the background.
#pragma once

#include "viewer/app/app.hpp"
#include "viewer/render/cut_stack.hpp"
#include "viewer/render/face_map.hpp"

#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace evenclose {

/// What the picture shows, so far as it decides whether it must be drawn again.
struct PictureKey {
    const Assembly* assembly = nullptr;
    Generation generation = 0;
    Travel travel;
    Slope slope;
    double tilt_magnified = 1;
    std::optional<Vec3> spot;
    std::string lit; // names of the chosen bodies, and the verdict on them
    Camera camera;
    int width = 0, height = 0;
    float scale = 0;
    Theme theme = Theme::light;
    bool moving = false;
    Seeing seeing = Seeing::press;
    std::size_t opening = 0;               // of which a map or a cut is shown
    const CheckResults* results = nullptr; // of which a map or a cut is shown
    const BentShapes* bent = nullptr;
    std::optional<Vec2> moved;                             // a mold that is dragged, from where it stands
    std::optional<std::pair<std::size_t, double>> sliding; // step and way of a mold that is slid in
    std::uint64_t closely = 0;                             // Closely::revision
};
[[nodiscard]] PictureKey key_of(const App& app, int width, int height, float scale, bool moving);
[[nodiscard]] bool same_picture(const PictureKey& a, const PictureKey& b);

/// What is made once for a map or a cut, and of which results.
struct MeasuredPicture {
    std::shared_ptr<const CheckResults> results;
    Seeing what = Seeing::press;
    std::size_t opening = 0;
    UnitSystem units = UnitSystem::metric;
    std::optional<FaceMap> map;
    std::vector<DrawnPly> plies;
};
/// `kept` where it still holds; none where no map nor cut is shown.
[[nodiscard]] std::optional<MeasuredPicture> measured_picture(const App& app, std::optional<MeasuredPicture> kept);

/// The frame that the state asks for, with its map or cut and its section. `moving`: it will change again at once.
/// Needs: an assembly.
[[nodiscard]] Frame picture_frame(const App& app, const std::optional<MeasuredPicture>& measured, float scale,
                                  bool moving);

/// Whether the body is a half of the mold in that opening. Needs: an assembly.
[[nodiscard]] bool is_mold(const App& app, std::size_t body, std::size_t opening);

/// The press stands where the finding was made, so that its spot marks something.
[[nodiscard]] bool stands_at(const App& app, const Finding& finding);

} // namespace evenclose
