// scene/motion/jack_bodies.hpp: the solids that a jack or a link shaft is made of, and how each goes with the head.
//
// What only rises rides with a share of the head's lift: a rhombus' screw with half of it. A link that folds, or a hose
// that fills, is drawn as it stands at a travel and swept as a solid that holds every place it takes over the stroke:
// what is clear of that is clear of the link.
#pragma once

#include "scene/mesh/triangle_mesh.hpp"
#include "scene/motion/lifting.hpp"
#include "scene/motion/turning.hpp"

#include <optional>
#include <string>
#include <vector>

namespace evenclose {

enum class JackPart { body, screw, link, hose, shaft };

/// A link of a scissor jack: from one pin to another, whose places are told in halves of the linkage's spread (along the
/// screw) and in shares of its height.
struct FoldingLink {
    Vec3 foot_pin_mm{0.0}; // world: middle of the linkage's lowest level
    double direction_rad = 0;
    Vec2 from{0.0}, to{0.0};
    double closed_height_mm = 0; // of the linkage, when the jack is at its lowest
    double parked_mm = 0;
    double reach_mm = 0; // spread = sqrt(reach^2 - (height / stages)^2); rhombus: reach is two arms, stages 1
    int stages = 1;
};

/// Where the link stands when the head has risen so far above parked: its from-pin at the origin, +X to the other.
[[nodiscard]] Pose pose_of(const FoldingLink& link, double risen_mm);

/// Shapes of a hose, each for heads that have risen no farther than this above parked.
struct ShapeAtRise {
    double up_to_mm = 0;
    SharedMesh mesh;
};

struct JackBody {
    std::string name; // "body", "screw", "left lower link"
    JackPart part = JackPart::body;
    SharedMesh mesh;          // placed in the world at travel 0, but for a folding link
    double share_of_lift = 0; // rides with this share of its head's lift
    bool moves = true;        // false: stands still; true with share 0: turns or folds in its place
    bool drawn = true, swept = true;
    std::optional<FoldingLink> fold;
    std::vector<ShapeAtRise> shapes; // of a hose, in order
    std::optional<Turning> turning = std::nullopt;
};

/// `last`: how far the stroke is swept.   Needs: a jack without faults.
/// Faults: std::invalid_argument with the jack and what does not fit.   Threads: pure, any.
[[nodiscard]] std::vector<JackBody> jack_bodies(const Jack& jack, double last_out_mm);

/// From screw to screw; where it lies at travel 0; it turns with the screw of the jack that it comes from. A box shaft is drawn as it is and swept as the round rod that it fills
/// as it turns.
[[nodiscard]] std::vector<JackBody> shaft_bodies(const Press& press, const ShaftLink& link);

} // namespace evenclose
