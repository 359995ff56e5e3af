// checks/clearance/triangle_bounds.hpp: bounds on the distance of two triangles over cells of travel, tilt included.
//
// Below: the direction of the nearest points at one travel, held fixed, parts the two triangles by an amount that is
// linear in travel (and, over the slope box, least at one of its corners): a tangent from below, true whatever the
// direction. Above: the chord between two travels on one path through the tilt envelope, see travel_cells.hpp. Where the
// path turns the body on the way, the chord is that of the two nearest material points and is raised by how far they
// stray from a straight line; a contact is certain there for as long as an edge goes through (lasting_contact.hpp).
#pragma once

#include "checks/clearance/relative_motion.hpp"
#include "checks/clearance/travel_cells.hpp"
#include "checks/clearance/triangle_distance.hpp"

#include <cstdint>

namespace evenclose {

class TriangleBounds {
public:
    TriangleBounds(const TriangleMesh& first, const TriangleMesh& second, const RelativeMotion& motion)
        : first_(first), second_(second), motion_(motion), tilts_(motion.first.tilts || motion.second.tilts) {}

    /// In the frame, at the reference slope, no rise.
    [[nodiscard]] Triangle of_first(std::uint32_t index) const;
    [[nodiscard]] Triangle of_second(std::uint32_t index) const;

    /// A pair at a travel: nearest points at the slopes that bring them nearest as far as the corners of the slope box
    /// tell; `distance` is true for those slopes.
    struct Measured {
        NearestPoints nearest;
        Witness witness;
    };
    [[nodiscard]] Measured measure(std::uint32_t i, const Triangle& a, std::uint32_t j, const Triangle& b, Travel at,
                                   double rise_mm) const;
    /// At given slopes.
    [[nodiscard]] NearestPoints measure_on(const Witness& witness, Travel at) const;

    /// True for every travel of the cell and the whole slope box, rounding included.
    [[nodiscard]] Line lower(const Vec3& direction, const Triangle& a, const Triangle& b, const TravelCell& first_cell,
                             const TravelCell& last_cell) const;
    /// True for every travel of the cell: at a slope that the envelope has all along it, or on the way between two. The
    /// witness is told the slope that was taken.
    [[nodiscard]] Line upper(Measured& measured, const TravelCell& cell, bool measured_at_from) const;

    [[nodiscard]] bool tilts() const { return tilts_; }
    [[nodiscard]] const RelativeMotion& motion() const { return motion_; }

private:
    /// In touch from `here` to `there`, the slopes on their way.
    [[nodiscard]] bool lasts(const Witness& witness, Travel here, Travel there, double bend_mm) const;

    const TriangleMesh& first_;
    const TriangleMesh& second_;
    const RelativeMotion& motion_;
    bool tilts_;
};

/// Is the greatest of some lines at or above `wanted` everywhere from 0 to 1?
[[nodiscard]] bool reach(const Line* lines, int count, const Line& wanted);

} // namespace evenclose
