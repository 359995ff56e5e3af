#include "checks/bend/curvature.hpp"

#include <Eigen/Dense>

#include <algorithm>
#include <cmath>
#include <limits>
#include <unordered_map>

namespace evenclose {
namespace {

// A look is so many thinning cells wide: some 80 points, and the fit of degree 4 has 15 unknowns.
constexpr double kCellsInLook = 5.0;
// From one width to the next. Finer steps cost more and find little.
constexpr double kWider = 1.45;
// Corners of a binary STL some 500 mm from its origin are rounded to 3e-5 mm; nothing is known better than that.
constexpr double kRounding_mm = 1.5e-5;
// What stands steeper than 70 degrees to the place belongs to another side of a wall.
constexpr float kSameSide = 0.34F;
// With fewer points beyond its unknowns a fit cannot tell its own error.
constexpr int kSpare = 8;
// Variance of a second derivative for points of unit scatter over a look of width 1: beyond this the points lie in a row
// or two and do not tell it (a full disc of 20 points gives 1 to 30).
constexpr double kUntold = 4000.0;

// Further points are no more than these, whatever the face's area.
constexpr double kMostFilled = 2.0e5;

struct Point {
    Vec3 at_mm;
    glm::vec3 normal;
};

std::uint64_t key_of(std::int64_t x, std::int64_t y, std::int64_t z) {
    constexpr std::int64_t kHalf = std::int64_t{1} << 20;
    return static_cast<std::uint64_t>(x + kHalf) << 42U | static_cast<std::uint64_t>(y + kHalf) << 21U |
           static_cast<std::uint64_t>(z + kHalf);
}

/// Points no nearer to each other than a cell or so, found by blocks as wide as the look.
class Thinned {
public:
    Thinned(const std::vector<Point>& points, double cell_mm, const Vec3& middle_mm)
        : look_mm_(kCellsInLook * cell_mm), middle_mm_(middle_mm) {
        std::unordered_map<std::uint64_t, std::uint32_t> taken;
        std::vector<std::pair<std::uint64_t, std::uint32_t>> kept;
        taken.reserve(points.size());
        for (std::uint32_t i = 0; i < points.size(); ++i) {
            if (taken.try_emplace(key(points[i].at_mm, cell_mm, 0, 0, 0), i).second) {
                kept.emplace_back(key(points[i].at_mm, look_mm_, 0, 0, 0), i);
            }
        }
        std::sort(kept.begin(), kept.end());
        for (const auto& [block, index] : kept) {
            const auto place = static_cast<std::uint32_t>(points_.size());
            auto [entry, fresh] = blocks_.try_emplace(block, place, place);
            entry->second.second = place + 1;
            points_.push_back(points[index]);
        }
    }

    [[nodiscard]] double look_mm() const { return look_mm_; }
    [[nodiscard]] const std::vector<Point>& points() const { return points_; }

    void near(const Vec3& at_mm, const glm::vec3& normal, std::vector<const Point*>& found) const {
        found.clear();
        for (int dx = -1; dx <= 1; ++dx) {
            for (int dy = -1; dy <= 1; ++dy) {
                for (int dz = -1; dz <= 1; ++dz) {
                    const auto block = blocks_.find(key(at_mm, look_mm_, dx, dy, dz));
                    if (block == blocks_.end()) {
                        continue;
                    }
                    for (std::uint32_t i = block->second.first; i < block->second.second; ++i) {
                        const Vec3 off = points_[i].at_mm - at_mm;
                        if (glm::dot(off, off) < look_mm_ * look_mm_ &&
                            glm::dot(points_[i].normal, normal) > kSameSide) {
                            found.push_back(&points_[i]);
                        }
                    }
                }
            }
        }
    }

private:
    [[nodiscard]] std::uint64_t key(const Vec3& at_mm, double cell_mm, int dx, int dy, int dz) const {
        const Vec3 cell = glm::floor((at_mm - middle_mm_) / cell_mm);
        return key_of(static_cast<std::int64_t>(cell.x) + dx, static_cast<std::int64_t>(cell.y) + dy,
                      static_cast<std::int64_t>(cell.z) + dz);
    }

    double look_mm_;
    Vec3 middle_mm_;
    std::vector<Point> points_;
    std::unordered_map<std::uint64_t, std::pair<std::uint32_t, std::uint32_t>> blocks_;
};

double area_mm2(const TriangleMesh& mesh, const std::vector<std::uint8_t>& which) {
    double doubled = 0;
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        if (which.empty() || which[t] != 0) {
            const TriangleCorners& corners = mesh.triangles[t];
            const Vec3& a = mesh.vertices_mm[corners[0]];
            doubled += glm::length(glm::cross(mesh.vertices_mm[corners[1]] - a, mesh.vertices_mm[corners[2]] - a));
        }
    }
    return 0.5 * doubled;
}

/// Rows of points along the longest side, for a triangle that is high enough for one.
void fill_inside(std::vector<Point>& points, const TriangleMesh& mesh, const std::vector<glm::vec3>& normals,
                 const TriangleCorners& corners, double fill_mm) {
    std::size_t first = 0;
    double longest = 0;
    for (std::size_t k = 0; k < 3; ++k) {
        const double length = glm::length(mesh.vertices_mm[corners[(k + 1) % 3]] - mesh.vertices_mm[corners[k]]);
        if (length > longest) {
            longest = length;
            first = k;
        }
    }
    const std::uint32_t ia = corners[first];
    const std::uint32_t ib = corners[(first + 1) % 3];
    const std::uint32_t ic = corners[(first + 2) % 3];
    const Vec3& a = mesh.vertices_mm[ia];
    const Vec3& b = mesh.vertices_mm[ib];
    const Vec3& c = mesh.vertices_mm[ic];
    const double height = longest > 0 ? glm::length(glm::cross(b - a, c - a)) / longest : 0;
    const double rows = std::floor(height / fill_mm);
    for (double row = 1; row < rows; ++row) {
        const double up = row / rows;
        const double columns = std::floor((1 - up) * longest / fill_mm);
        for (double column = 1; column < columns; ++column) {
            const double share = column / columns;
            const double at_a = (1 - up) * (1 - share);
            const double at_b = (1 - up) * share;
            points.push_back({at_a * a + at_b * b + up * c, static_cast<float>(at_a) * normals[ia] +
                                                                static_cast<float>(at_b) * normals[ib] +
                                                                static_cast<float>(up) * normals[ic]});
        }
    }
}

/// Directions in the plane across a unit vector.
struct Plane {
    Vec3 u{0.0}, v{0.0};
    explicit Plane(const Vec3& normal) {
        const Vec3 helper = std::abs(normal.x) < 0.6 ? Vec3{1, 0, 0} : Vec3{0, 1, 0};
        u = glm::normalize(helper - glm::dot(helper, normal) * normal);
        v = glm::cross(normal, u);
    }
};

/// Height over the plane as a polynomial; lengths in units of the look.
template <int Degree> struct Fit {
    static constexpr int kUnknowns = (Degree + 1) * (Degree + 2) / 2;
    using Row = Eigen::Matrix<double, kUnknowns, 1>;
    using Square = Eigen::Matrix<double, kUnknowns, kUnknowns>;

    Row coefficient = Row::Zero();
    double error = std::numeric_limits<double>::infinity(); // of a second derivative

    static Row row_of(double u, double v) {
        Row row;
        int k = 0;
        for (int degree = 0; degree <= Degree; ++degree) { // 1, u, v, u2, uv, v2, ...
            for (int j = 0; j <= degree; ++j) {
                double product = 1;
                for (int i = 0; i < degree - j; ++i) {
                    product *= u;
                }
                for (int i = 0; i < j; ++i) {
                    product *= v;
                }
                row[k++] = product;
            }
        }
        return row;
    }

    void made_from(const std::vector<Vec3>& local, double rounding) {
        if (static_cast<int>(local.size()) < kUnknowns + kSpare) {
            return;
        }
        Square normal = Square::Zero();
        Row right = Row::Zero();
        double weights = 0;
        double squares = 0;
        for (const Vec3& p : local) {
            const double inward = std::max(0.0, 1.0 - glm::dot(p, p));
            const double weight = inward * inward + 1e-3;
            const Row row = row_of(p.x, p.y);
            normal.template selfadjointView<Eigen::Lower>().rankUpdate(row, weight);
            right += weight * p.z * row;
            weights += weight;
            squares += weight * p.z * p.z;
        }
        const Eigen::LDLT<Square> solver(normal.template selfadjointView<Eigen::Lower>());
        if (solver.info() != Eigen::Success || !(solver.vectorD().minCoeff() > 1e-12 * weights)) {
            return;
        }
        coefficient = solver.solve(right);
        double worst = 0;
        for (const int k : {3, 4, 5}) {
            const Row unit = Row::Unit(k);
            const double variance = solver.solve(unit)[k] * (k == 4 ? 1.0 : 4.0); // second derivative: twice u2's
            worst = std::max(worst, variance);
        }
        if (!(worst * weights < kUntold * static_cast<double>(local.size()))) {
            return;
        }
        const double left = std::max(0.0, squares - coefficient.dot(right));
        const double spare = static_cast<double>(static_cast<int>(local.size()) - kUnknowns);
        const double scatter = std::sqrt(left / weights * static_cast<double>(local.size()) / spare);
        error = std::sqrt(worst * weights / static_cast<double>(local.size())) * std::max(scatter, rounding);
    }
};

struct Estimate {
    double error = std::numeric_limits<double>::infinity(); // 1/mm
    double look_mm = 0;
    double pu = 0, pv = 0, uu = 0, uv = 0, vv = 0; // derivatives of the height, mm
};

template <int Degree> void improve(Estimate& best, const std::vector<Vec3>& local, double look_mm) {
    Fit<Degree> fit;
    fit.made_from(local, kRounding_mm / look_mm);
    const double error = fit.error / look_mm;
    if (error < best.error) {
        best = {error,
                look_mm,
                fit.coefficient[1],
                fit.coefficient[2],
                2 * fit.coefficient[3] / look_mm,
                fit.coefficient[4] / look_mm,
                2 * fit.coefficient[5] / look_mm};
    }
}

/// The normal curvatures of the graph with these derivatives (do Carmo, Differential Geometry of Curves and Surfaces,
/// sec. 3-3, example 5), as a symmetric form in an orthonormal frame of its own tangent plane.
Curvature curvature_of(const Estimate& estimate, const Plane& plane, const Vec3& up) {
    Curvature result;
    result.known = true;
    result.error = estimate.error;
    result.looked_mm = estimate.look_mm;
    const double long_normal = std::sqrt(1 + estimate.pu * estimate.pu + estimate.pv * estimate.pv);
    result.normal = (up - estimate.pu * plane.u - estimate.pv * plane.v) / long_normal;
    const Plane own(result.normal);
    // A tangent vector is a (1, 0, hu) + b (0, 1, hv) in the plane's axes, so its products with the axes are a and b.
    const Eigen::Vector2d first{glm::dot(own.u, plane.u), glm::dot(own.u, plane.v)};
    const Eigen::Vector2d second{glm::dot(own.v, plane.u), glm::dot(own.v, plane.v)};
    Eigen::Matrix2d form;
    form << estimate.uu, estimate.uv, estimate.uv, estimate.vv;
    form /= long_normal;
    Eigen::Matrix2d shape;
    shape << first.dot(form * first), first.dot(form * second), first.dot(form * second), second.dot(form * second);
    const Eigen::SelfAdjointEigenSolver<Eigen::Matrix2d> solver(shape);
    result.least = solver.eigenvalues()[0];
    result.greatest = solver.eigenvalues()[1];
    result.first = solver.eigenvectors()(0, 1) * own.u + solver.eigenvectors()(1, 1) * own.v;
    return result;
}

} // namespace

Vec3 Curvature::laid(const Vec3& direction) const {
    return glm::normalize(direction - glm::dot(direction, normal) * normal);
}

double Curvature::in(const Vec3& direction) const {
    const double cosine = glm::dot(laid(direction), first);
    return greatest * cosine * cosine + least * (1 - cosine * cosine);
}

struct CurvedFace::Inside {
    std::vector<Thinned> corners, filled; // from narrow to wide

    /// The best over all widths: wider ones are tried until three in a row were worse.
    static void improve_over(Estimate& best, const std::vector<Thinned>& levels, const Vec3& at_mm, const Vec3& normal,
                             const Plane& plane) {
        std::vector<const Point*> found;
        std::vector<Vec3> local;
        int worse = 0;
        for (const Thinned& level : levels) {
            level.near(at_mm, glm::vec3(normal), found);
            local.clear();
            for (const Point* point : found) {
                const Vec3 off = (point->at_mm - at_mm) / level.look_mm();
                local.emplace_back(glm::dot(off, plane.u), glm::dot(off, plane.v), glm::dot(off, normal));
            }
            const double before = best.error;
            improve<2>(best, local, level.look_mm());
            improve<4>(best, local, level.look_mm());
            if (!std::isfinite(best.error)) {
                continue;
            }
            worse = best.error < before ? 0 : worse + 1;
            if (worse == 3) {
                break;
            }
        }
    }
};

CurvedFace::CurvedFace(const TriangleMesh& mesh, const std::vector<std::uint8_t>& which,
                       const std::vector<glm::vec3>& normals, const Request& request) {
    auto inside = std::make_unique<Inside>();
    std::vector<std::uint8_t> used(mesh.vertices_mm.size(), 0);
    std::vector<Point> points;
    std::vector<Point> between;
    const double fill_mm = std::max(request.fill_mm, std::sqrt(area_mm2(mesh, which) / kMostFilled));
    double edges_mm = 0;
    std::size_t edges = 0;
    Box box;
    for (std::size_t t = 0; t < mesh.triangles.size(); ++t) {
        if (!which.empty() && which[t] == 0) {
            continue;
        }
        const TriangleCorners& corners = mesh.triangles[t];
        for (std::size_t k = 0; k < 3; ++k) {
            const std::uint32_t a = corners[k];
            const std::uint32_t b = corners[(k + 1) % 3];
            if (used[a] == 0) {
                used[a] = 1;
                points.push_back({mesh.vertices_mm[a], normals[a]});
                box.add(mesh.vertices_mm[a]);
            }
            const double length = glm::length(mesh.vertices_mm[b] - mesh.vertices_mm[a]);
            edges_mm += length;
            ++edges;
            const double parts = std::floor(length / fill_mm);
            if (length > 1.5 * fill_mm && a < b) { // the neighbour's runs the other way
                for (double i = 1; i < parts; ++i) {
                    between.push_back({glm::mix(mesh.vertices_mm[a], mesh.vertices_mm[b], i / parts),
                                       glm::mix(normals[a], normals[b], static_cast<float>(i / parts))});
                }
            }
        }
        fill_inside(between, mesh, normals, corners, fill_mm);
    }
    if (!points.empty()) {
        const Vec3 middle = box.centre_mm();
        // Half the mean spacing of the corners: all of them are kept at first.
        const double spacing = edges_mm / static_cast<double>(edges);
        const double extent = glm::length(box.size_mm());
        const double least_cell = std::max(0.25 * spacing, 2e-6 * extent);
        for (double cell = least_cell; kCellsInLook * cell <= request.farthest_mm || inside->corners.size() < 3;
             cell *= kWider) {
            inside->corners.emplace_back(inside->corners.empty() ? points : inside->corners.back().points(), cell,
                                         middle);
        }
        if (!between.empty()) {
            points.insert(points.end(), between.begin(), between.end());
            for (double cell = 0.75 * fill_mm; kCellsInLook * cell <= request.farthest_mm; cell *= kWider) {
                inside->filled.emplace_back(points, cell, middle);
            }
        }
    }
    inside_ = std::move(inside);
}

CurvedFace::~CurvedFace() = default;
CurvedFace::CurvedFace(CurvedFace&&) noexcept = default;
CurvedFace& CurvedFace::operator=(CurvedFace&&) noexcept = default;

Curvature CurvedFace::at(const Vec3& at_mm, const Vec3& normal) const {
    const Plane plane(normal);
    Estimate best;
    Inside::improve_over(best, inside_->corners, at_mm, normal, plane);
    Inside::improve_over(best, inside_->filled, at_mm, normal, plane);
    return std::isfinite(best.error) ? curvature_of(best, plane, normal) : Curvature{};
}

std::vector<TurnedEdge> turned_edges(const TriangleMesh& mesh, const std::vector<std::uint8_t>& which) {
    struct Side {
        std::uint32_t a, b, triangle;
    };
    std::vector<Side> sides;
    for (std::uint32_t t = 0; t < mesh.triangles.size(); ++t) {
        if (which.empty() || which[t] != 0) {
            const TriangleCorners& corners = mesh.triangles[t];
            for (std::size_t k = 0; k < 3; ++k) {
                const auto [low, high] = std::minmax(corners[k], corners[(k + 1) % 3]);
                sides.push_back({low, high, t});
            }
        }
    }
    std::sort(sides.begin(), sides.end(), [](const Side& a, const Side& b) {
        return a.a != b.a ? a.a < b.a : a.b != b.b ? a.b < b.b : a.triangle < b.triangle;
    });
    const auto across = [&](std::uint32_t t) {
        const TriangleCorners& corners = mesh.triangles[t];
        const Vec3& a = mesh.vertices_mm[corners[0]];
        return glm::cross(mesh.vertices_mm[corners[1]] - a, mesh.vertices_mm[corners[2]] - a);
    };
    std::vector<TurnedEdge> edges;
    for (std::size_t i = 0; i < sides.size();) {
        std::size_t end = i + 1;
        while (end < sides.size() && sides[end].a == sides[i].a && sides[end].b == sides[i].b) {
            ++end;
        }
        if (end - i == 2) {
            const Vec3& a = mesh.vertices_mm[sides[i].a];
            const Vec3& b = mesh.vertices_mm[sides[i].b];
            const Vec3 one = across(sides[i].triangle);
            const Vec3 other = across(sides[i + 1].triangle);
            const double length = glm::length(b - a);
            const double areas = glm::length(one) + glm::length(other); // twice both
            if (length > 0 && glm::length(one) > 0 && glm::length(other) > 0) {
                TurnedEdge edge;
                edge.middle_mm = 0.5 * (a + b);
                edge.length_mm = length;
                edge.turn_rad = std::atan2(glm::length(glm::cross(one, other)), glm::dot(one, other));
                edge.a_mm = edge.turn_rad * 2 * length / areas; // mean height of the two triangles: areas / 2 length
                edge.triangle = sides[i].triangle;
                edges.push_back(edge);
            }
        }
        i = end;
    }
    return edges;
}

} // namespace evenclose
