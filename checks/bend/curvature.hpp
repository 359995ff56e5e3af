// checks/bend/curvature.hpp: how a meshed face is curved at a place, whatever its facets are like.
//
// A polynomial is fitted to the mesh's corners round the place, as a height over the tangent plane, and its second
// derivatives give the shape operator: F. Cazals & M. Pouget, "Estimating differential quantities using polynomial
// fitting of osculating jets", Computer Aided Geometric Design 22(2), 2005. Corners of a CAD face lie on the true face
// and facets do not, so corners tell more than the angles between facets.
//
// How far to look is not known beforehand: noise asks for a wide look, a tight radius for a narrow one. So the fit is made
// at several widths, of degree 2 and 4, and the one whose own standard error is least is taken; that error grows with
// noise where the look is too narrow and with what the polynomial cannot follow where it is too wide. Corners are found by
// place and not over edges: a seam between two printed pieces is nothing special. Large facets, as of a cylinder that was
// exported with corners at its two ends only, get further points along their edges and inside, which count where corners
// do not do.
//
// Not told: what is smaller than the spacing of the corners. A crease is not a curvature: see sharp_edges().
#pragma once

#include "scene/mesh/triangle_mesh.hpp"

#include <cstdint>
#include <memory>
#include <vector>

namespace evenclose {

/// The second fundamental form, 1/mm. Above 0: the face is hollow, it curls up towards the normal.
struct Curvature {
    bool known = false;             // false: too few points round the place
    Vec3 normal{0.0};               // of the fitted face, on the side that was asked for
    Vec3 first{0.0};                // unit, tangent: the direction of `greatest`
    double greatest = 0, least = 0; // principal curvatures, greatest >= least
    double error = 0;               // standard error of a curvature, 1/mm
    double looked_mm = 0;           // how far round the place

    [[nodiscard]] double gauss() const { return greatest * least; }
    [[nodiscard]] double mean() const { return 0.5 * (greatest + least); }
    /// Normal curvature in a direction, by Euler's formula. Needs: not along the normal.
    [[nodiscard]] double in(const Vec3& direction) const;
    /// What a direction becomes when it is laid into the face. Needs: as above.
    [[nodiscard]] Vec3 laid(const Vec3& direction) const;
};

/// A face's points, ready to be asked. Keeps no reference to the mesh.
class CurvedFace {
public:
    struct Request {
        double fill_mm = 4;      // facets larger than this get points about so far apart
        double farthest_mm = 60; // no wider look than this
    };
    /// `which`: 1 for the triangles that belong to the face; empty: all. `normals`: one a vertex, towards the side that
    /// is asked about. Needs: finite corners.
    CurvedFace(const TriangleMesh& mesh, const std::vector<std::uint8_t>& which, const std::vector<glm::vec3>& normals,
               const Request& request);
    CurvedFace(const TriangleMesh& mesh, const std::vector<std::uint8_t>& which, const std::vector<glm::vec3>& normals)
        : CurvedFace(mesh, which, normals, Request{}) {}
    ~CurvedFace();
    CurvedFace(CurvedFace&&) noexcept;
    CurvedFace& operator=(CurvedFace&&) noexcept;

    /// Needs: `at_mm` on or near the face, a unit normal.   Threads: any number at once.
    [[nodiscard]] Curvature at(const Vec3& at_mm, const Vec3& normal) const;

private:
    struct Inside;
    std::unique_ptr<const Inside> inside_;
};

/// An edge between two triangles of the face.
struct TurnedEdge {
    Vec3 middle_mm{0.0};
    double length_mm = 0;
    double turn_rad = 0; // angle between the two facets
    double a_mm = 0;     // turn over the mean width of the two facets, 1/mm: a first guess at the curvature across it
    std::uint32_t triangle = 0; // one of the two
};
/// Edges of two triangles of the face; rims and edges of three are left out. In the order of the corners.
[[nodiscard]] std::vector<TurnedEdge> turned_edges(const TriangleMesh& mesh, const std::vector<std::uint8_t>& which);

} // namespace evenclose
