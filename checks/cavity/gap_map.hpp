// checks/cavity/gap_map.hpp: the gap between the forming faces, point by point over the deck.
//
// At points of a grid in plan on the lower half's forming face: how far the upper half's forming face is along the lower
// face's normal, and along the stroke. Excess is the gap less the stack's thickness: > 0 loose, < 0 crushed. Not the
// thickness of the pressed deck: plies do not flow and glue bridges no gap.
//
// Along the stroke both faces are rasterised (height_map.hpp): exact for the facets. Along the normal a ray starts below
// the lower face, so that halves that run into each other give a negative gap and not none. What the facets cost is not
// in the numbers: a chord lies up to its sagitta inside a round face.
#pragma once

#include "checks/cavity/face_tree.hpp"
#include "checks/cavity/forming_face.hpp"
#include "checks/cavity/height_map.hpp"
#include "scene/vec.hpp"

#include <cstdint>
#include <functional>
#include <memory>
#include <vector>

namespace evenclose {

/// Whether a gap could be measured along the normal; where it could not there is no number.
enum class Seen : std::uint8_t {
    faced,
    no_lower_face,    // the lower half has nothing here
    no_opposite_face, // the normal meets nothing
    past_the_rim,     // the normal meets the upper half beside its forming face: a wall, its back
};

struct GapSample {
    Vec3 at_mm{0.0};         // on the lower face; where there is none, the place in plan at height 0
    glm::vec3 normal{0.0F};  // of the lower face, towards the upper
    glm::vec3 facing{0.0F};  // of the upper face where the normal meets it, away from the lower; faced only
    float gap_mm = 0;        // along the normal; faced only
    float stroke_gap_mm = 0; // along the stroke; only if above
    float area_mm2 = 0;      // of the lower face, that this sample stands for
    Seen seen = Seen::no_lower_face;
    bool above = false; // the upper half's forming face lies straight above (or below, crossed)
};

struct GapMap {
    double stack_mm = 0;
    std::vector<GapSample> samples;

    [[nodiscard]] double excess_mm(std::size_t i) const { return static_cast<double>(samples[i].gap_mm) - stack_mm; }
    [[nodiscard]] double stroke_excess_mm(std::size_t i) const {
        return static_cast<double>(samples[i].stroke_gap_mm) - stack_mm;
    }
};

struct GapRequest {
    double stack_mm = 0;          // pressed
    double samples_a_mm2 = 0;     // 0: adaptive, as dense as the gap changes; else everywhere this many
    double resolution_mm = 0.075; // adaptive: where neighbours differ by more, look closer
};

/// The two halves as they stand closed, in one frame with Z along the stroke, prepared once for many questions.
class FacingHalves {
public:
    /// `outline_mm`: of the deck, in plan; empty: all that both halves share.
    /// Needs: finite corners; step > 0: the grid that finds the faces (adaptive maps never look closer).
    /// Faults: std::invalid_argument: halves that share no plan, an outline of no area.
    FacingHalves(std::shared_ptr<const TriangleMesh> lower, std::shared_ptr<const TriangleMesh> upper, double step_mm,
                 std::vector<Vec2> outline_mm = {});

    /// Threads: runs on TBB's; the answer does not depend on them.
    [[nodiscard]] GapMap map(const GapRequest& request) const;
    /// The same samples with the upper half moved from where it was by `upper`.
    [[nodiscard]] GapMap moved(const GapMap& map, const Pose& upper) const;
    /// Only along the stroke, at every point of a grid: both faces seen or not a number. The quick way.
    [[nodiscard]] std::vector<float> stroke_gaps(const PlanGrid& grid) const;

    [[nodiscard]] const TriangleMesh& lower() const { return *lower_; }
    [[nodiscard]] const TriangleMesh& upper() const { return *upper_; }
    [[nodiscard]] const HeightMap& lower_map() const { return lower_map_; }
    [[nodiscard]] const HeightMap& upper_map() const { return upper_map_; }
    [[nodiscard]] const FormingFace& lower_face() const { return lower_face_; }
    [[nodiscard]] const FormingFace& upper_face() const { return upper_face_; }

private:
    [[nodiscard]] GapSample at(const HeightMap& below, const HeightMap& above, std::size_t index,
                               double stack_mm) const;
    void along_normal(GapSample& sample, double stack_mm, const Pose& into_upper) const;

    std::shared_ptr<const TriangleMesh> lower_, upper_;
    std::vector<Vec2> outline_mm_;
    HeightMap lower_map_, upper_map_;
    FormingFace lower_face_, upper_face_;
    FaceTree tree_;
};

/// How a point of a half is displaced from where a rigid press would hold it, mm.
using DisplacementField = std::function<Vec3(const Vec3& at_mm)>;

/// The map when faces are displaced a little (bending, tilt): to first order, each gap changes by the difference of the
/// two displacements across the upper face. What is seen stays. Good while displacements are small against the faces'
/// radii: the error is about displacement^2 / radius (0.01 mm for 1 mm at radius 100). Empty fields displace nothing.
[[nodiscard]] GapMap displaced(const GapMap& map, const DisplacementField& lower, const DisplacementField& upper);

} // namespace evenclose
