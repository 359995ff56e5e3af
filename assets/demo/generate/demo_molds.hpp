// assets/demo/generate/demo_molds.hpp: the mold halves of the demo, from profiles with a closed form.
//
// Both molds bend their plies one way only: the forming faces are z = profile(x), straight across Y. The upper face is the
// true offset of the lower one by the stack's thickness t: where the profile is an arc, an arc about the same centre with
// the radius t more (crown) or less (hollow). So the gap along the normal is t everywhere, closed. Both halves stand in
// the mold frame: origin in the middle of the lower seat, Z up.
#pragma once

#include "scene/mesh/triangle_mesh.hpp"

#include <filesystem>

namespace evenclose::demo {

/// A shallow seat back: one arc, crown up.
struct Crescent {
    double length_mm = 760, width_mm = 260;
    double radius_mm = 1500;   // of the lower face
    double end_height_mm = 60; // of the lower half at its ends
    double back_mm = 60;       // upper half, above the crown
    double stack_mm = 10.8;

    [[nodiscard]] double lower_z_mm(double x_mm) const;
    [[nodiscard]] double upper_z_mm(double x_mm) const;
    [[nodiscard]] double shut_height_mm() const { return upper_z_mm(0) + back_mm; }
};

/// A sled runner: flat in the middle, nose (+X) and tail (-X) swept up on arcs.
struct Curlew {
    double length_mm = 1000, width_mm = 180;
    double nose_from_mm = 200, nose_radius_mm = 600;
    double tail_from_mm = -250, tail_radius_mm = 800;
    double flat_height_mm = 70; // of the lower half where it is flat
    double shut_mm = 235;
    double stack_mm = 10.8;

    [[nodiscard]] double lower_z_mm(double x_mm) const { return z_mm(x_mm, 0); }
    [[nodiscard]] double upper_z_mm(double x_mm) const { return z_mm(x_mm, stack_mm); }
    [[nodiscard]] double shut_height_mm() const { return shut_mm; }

private:
    [[nodiscard]] double z_mm(double x_mm, double offset_mm) const;
};

/// How finely the forming faces are cut: cells along X and across Y, two triangles each.
struct Fineness {
    int along = 420, across = 130;
};

struct Halves {
    TriangleMesh lower, upper;
};
[[nodiscard]] Halves halves_of(const Crescent& mold, Fineness fineness = {});
[[nodiscard]] Halves halves_of(const Curlew& mold, Fineness fineness = {});

/// Faults: std::runtime_error with the file and the system's reason.
void write_binary_stl(const TriangleMesh& mesh, const std::filesystem::path& file);

} // namespace evenclose::demo
