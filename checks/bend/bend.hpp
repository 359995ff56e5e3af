// checks/bend/bend.hpp: `bend`: will the plies follow the forming faces, cold and dry, and how far does the deck spring back?
//
// The forming faces' curvature (curvature.hpp) at points of a grid in plan over the deck, closer where neighbouring facets
// turn the most. From a face the stack is offset along the normal: at distance d a principal curvature k becomes
// k / (1 - k d) (do Carmo, sec. 3-5, exercise 11), and where k d reaches 1 the offset folds back on itself. Each ply is
// looked at in its middle, from the nearer face, along its grain and across it.
//
// A ply bent to radius R is strained by t / 2R. A face that is curved both ways (Gauss' K not 0) cannot be laid with flat
// veneer without stretching it: along a strip the strain e obeys e'' = -K across it, so a strip of width w asks for
// K w^2 / 8 from its middle to its edge (REFERENCE 8.4). K is integrated twice along both ways over the grid and the
// lesser is told, since a ply gives where it is easiest: an estimate.
//
// Not told: what heat, water and slow closing add to what a ply takes; plies that slip or are cut to fit.
#pragma once

#include "checks/bend/curvature.hpp"
#include "checks/bend/ply_wood.hpp"
#include "checks/cavity/height_map.hpp"
#include "checks/finding.hpp"
#include "checks/progress.hpp"
#include "scene/motion/assembly.hpp"

#include <optional>
#include <string>
#include <vector>

namespace evenclose {

struct BendSample {
    Vec3 at_mm{0.0}; // mold frame
    Curvature face;  // above 0: hollow towards the stack; not known: no forming face or too few corners
    double lengthwise = 0, crosswise = 0; // normal curvature along the deck and across it, 1/mm
    double stretch = 0;                   // in-plane strain that double curvature asks for here
    double area_mm2 = 0;                  // of the face; 0 for the further samples
};

struct BentFace {
    PlanGrid grid;
    std::vector<BendSample> samples;  // one a point of the grid, in its order
    std::vector<BendSample> sharpest; // further ones, where facets turn the most
    double creased_mm = 0;            // length of edges that turn by more than 25 degrees, inside the deck
    Vec3 crease_mm{0.0};              // middle of the sharpest
    double crease_rad = 0;            // how far it turns
};

/// One ply at its worst place, one way.
struct PlyBend {
    std::size_t ply = 0;  // from the lower half upward
    double radius_mm = 0; // of its middle, > 0
    double strain = 0;    // t / 2R
    double breaks = 0;    // strain at which its wood breaks
    bool tried = false;   // by the shop, not estimated
    Vec3 at_mm{0.0};      // on the face, mold frame
    bool from_upper = false;
    [[nodiscard]] double use() const { return strain / breaks; }
    [[nodiscard]] double least_radius_mm() const { return radius_mm * use(); }
};

struct BendMeasure {
    std::string not_measured;
    BentFace lower, upper;
    Pose lower_to_world, upper_to_world; // at closed
    Travel closed;
    double stack_mm = 0;
    double tightest_mm = 0; // smallest radius of either face; 0: both flat
    Vec3 tightest_at_mm{0.0};
    bool tightest_of_upper = false;
    std::optional<PlyBend> with_grain,
        across_grain;                     // the worst of the plies whose wood is known; none: flat or unknown
    std::vector<std::size_t> unknown;     // plies of which neither species nor radius is known
    double doubly_mm2 = 0, whole_mm2 = 0; // area of the lower face: curved both ways, and all that was seen
    double stretch = 0;                   // greatest
    Vec3 stretch_at_mm{0.0};
    double fold = 0; // greatest curvature times stack: 1 or more folds back
    Vec3 fold_at_mm{0.0};
    bool fold_from_upper = false;
    std::optional<SpringBack> spring_back;
};

/// The tighter principal curvature as far as it is certain, 1/mm, whatever its side: what remains of it beyond twice its
/// standard error. 0 where it is not known.
[[nodiscard]] double surely_bent(const Curvature& face);
/// Beyond this radius a face is flat.
inline constexpr double kFlatRadius_mm = 20000;

/// Needs: a set-up with everything loaded, and its assembly.   Threads: runs on TBB's; `progress` may be cancelled.
[[nodiscard]] BendMeasure measure_bend(const Setup& setup, const Assembly& assembly, Progress& progress);

/// Along the grain and across it: go with one and a half times the smallest radius, marginal above it, no-go below (an
/// estimate across the grain alone is never more than marginal). Double curvature: go up to a quarter of the strain at
/// which the wood breaks, marginal up to it. An edge or a fold-back inside the deck: no-go. Plies of unknown wood: not
/// checked. Spring-back is told and judges nothing.
[[nodiscard]] std::vector<Finding> judge(const BendMeasure& measure, const Setup& setup, const Assembly& assembly);

} // namespace evenclose
