// checks/frame/solve.hpp: displacements, reactions and forces of a space frame, by the direct stiffness method.
//
// Beams: Timoshenko (exact for end loads and uniform load; J. S. Przemieniecki, Theory of Matrix Structural Analysis,
// ch. 5), hinges condensed out. Plates: MITC4 for bending and shear (K.-J. Bathe and E. N. Dvorkin, Int. J. Num. Meth.
// Eng. 21, 1985), bilinear plane stress, and a weak tie of the drilling turn to the plate's own rotation (T. J. R.
// Hughes and F. Brezzi, 1989) so that a flat shell has six degrees of freedom a node. One sparse LDL^T (Eigen) after
// scaling by the diagonal; a step of refinement.
//
// Not covered: buckling, yielding, second-order effects, contact that opens (see contact.hpp).
#pragma once

#include "checks/frame/space_frame.hpp"

#include <vector>

namespace evenclose {

/// A way in which parts move without straining anything. It is held at one place so that the rest can be solved.
struct Mechanism {
    std::vector<std::size_t> nodes; // that move, the one that moves most first
    Motion motion;                  // of that first node; greatest move 1 mm (or greatest turn 1 rad)
    std::size_t held_node = 0;
    int held_direction = 0; // 0..5: moves, then turns
    bool loaded = false;    // in some case holding it takes force: no equilibrium without it
};

/// Moments and shear forces a mm of a plate in the axes of its element, at its middle: x along its first side.
struct PlateForces {
    Mat3 axes{1.0};                       // columns: element x, y, normal
    double mx_N = 0, my_N = 0, mxy_N = 0; // N mm a mm; mx bends along x; > 0 pulls on the +normal face
    double nx_N_per_mm = 0, ny_N_per_mm = 0, nxy_N_per_mm = 0;
    double qx_N_per_mm = 0, qy_N_per_mm = 0;
};

struct FrameState {
    std::vector<Motion> motions;                      // of every node, world
    std::vector<Action> reactions;                    // on every node, in its held directions; else 0
    std::vector<std::array<double, 12>> beam_forces;  // on the beam's ends, own axes: N Vy Vz Mx My Mz at a, at b
    std::vector<std::array<double, 6>> spring_forces; // own axes; > 0 pulls a and b together
    std::vector<PlateForces> plate_forces;
};

struct FrameSolution {
    std::vector<FrameState> states; // one a load case
    std::vector<Mechanism> mechanisms;
    [[nodiscard]] bool stable() const { return mechanisms.empty(); }
};

/// Needs: nodes that exist, beams with stiffness above 0 and a length, finite loads.
/// Gives: states even where there are mechanisms (held; a loaded one's parts are then not to be trusted).
/// Faults: std::invalid_argument that says which element and what is wrong.   Threads: pure, any; one answer.
[[nodiscard]] FrameSolution solve(const SpaceFrame& frame, const std::vector<LoadCase>& cases);

/// Moments about own y and z and axial force along a beam at `x_mm` from its a end (Needs: 0 to its length).
struct BeamForces {
    double N = 0, Vy = 0, Vz = 0, Mx = 0, My = 0, Mz = 0; // N > 0: tension; on the face that looks along +x
};
[[nodiscard]] BeamForces forces_at(const SpaceFrame& frame, const FrameState& state, std::size_t beam, double x_mm,
                                   double distributed = 1.0);

} // namespace evenclose
