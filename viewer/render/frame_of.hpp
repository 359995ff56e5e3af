// viewer/render/frame_of.hpp: from an assembly at a travel to a picture's data. Pure, tested without a screen.
#pragma once

#include "checks/finding.hpp"
#include "scene/motion/assembly.hpp"
#include "viewer/render/body_sight.hpp"
#include "viewer/render/frame.hpp"
#include "viewer/render/palette.hpp"
#include "viewer/render/sliding_mold.hpp"

#include <optional>
#include <string>
#include <vector>

namespace evenclose {

struct BentShapes; // checks/frame/bent_shapes.hpp

struct FrameRequest {
    Travel at{};
    std::optional<Slope> slope{};         // none: the nominal one
    double tilt_magnified = 1;            // drawn this many times the real tilt
    const Finding* chosen = nullptr;      // lights its bodies, dims the others, marks the spot
    std::string view = "corner";          // see view_names()
    std::optional<Camera> camera{};       // instead of the view's: saves looking at every vertex again
    double aspect = 1.6;                  // width / height of the picture, so that the press fits
    const Palette* palette = nullptr;     // none: light_palette()
    std::optional<SlidingMold> sliding{}; // the mold is on its way in, not in its place
    const BodySight* sight = nullptr;     // none: every body is seen
    const BentShapes* bent = nullptr; // the frame bent by the closing force, coloured by what it uses of its strength
};

[[nodiscard]] const std::vector<std::string>& view_names(); // "corner", "front", "back", "left", "right", "top", "mold"
/// A camera that shows the whole press over its whole stroke (or the mold and platen faces, for "mold") with a small
/// margin. Faults: std::invalid_argument for an unknown name.
[[nodiscard]] Camera camera_for(const Assembly& assembly, const std::string& view, double aspect);
/// A camera that looks at a finding's spot closely, from the side on which it can be seen best, at the travel and slope
/// of the finding. A finding without a spot: its bodies from that side; without bodies: the "corner" view. A tilt that
/// `level` found: the whole press, square to the way it falls.
[[nodiscard]] Camera camera_for(const Assembly& assembly, const Finding& finding, double aspect);

/// The same view of the whole press from so far off that it is in the picture however it is turned about the upright line
/// through the middle of its reach. Faults: as above.
[[nodiscard]] Camera turntable_camera(const Assembly& assembly, const std::string& view, double aspect);

/// Where a body is drawn. `slope`: of the platen; none: its nominal one.
[[nodiscard]] Pose pose_in_picture(const Assembly& assembly, const Body& body, Travel at,
                                   const std::optional<Slope>& slope, double tilt_magnified);

/// What the drawn bodies reach over the stroke, the finite part of it; empty without a body.
[[nodiscard]] Box reach_over_stroke(const Assembly& assembly);

/// Bodies of the chosen finding are lit, or foul where the finding is a no-go of check "travel"; the rest are dimmed.
/// A finding that names no body dims nothing. Faults: as camera_for.
[[nodiscard]] Frame frame_of(const Assembly& assembly, const FrameRequest& request);

} // namespace evenclose
