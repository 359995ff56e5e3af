#include "viewer/render/face_map.hpp"

#include "checks/bend/bend.hpp"
#include "checks/cavity/cavity.hpp"
#include "checks/deck.hpp"
#include "checks/frame/frame_check.hpp"
#include "checks/outline.hpp"
#include "checks/print/pieces.hpp"

#include <fmt/format.h>

#include "viewer/render/camera_fit.hpp"
#include "viewer/render/deck_grid.hpp"
#include "viewer/render/placed_body.hpp"

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

// A map's ends: at least so many tolerances, and no more, so that the tolerance keeps a place on the scale.
constexpr double kLeastEnds = 2.0;
constexpr double kMostEnds = 10.0;

/// Values at places in plan, found by the nearest.
class Nearest {
public:
    Nearest(Vec2 low_mm, Vec2 high_mm, double cell_mm)
        : low_mm_(low_mm), cell_mm_(cell_mm), columns_(cells(high_mm.x - low_mm.x)), rows_(cells(high_mm.y - low_mm.y)),
          places_(static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_)) {}

    void add(Vec2 at_mm, float value) { places_[index(column(at_mm.x), row(at_mm.y))].push_back({at_mm, value}); }

    /// Of the places in the cell and those round it.
    [[nodiscard]] std::optional<double> at(Vec2 at_mm, double reach_mm) const {
        double least = reach_mm * reach_mm;
        std::optional<double> value;
        const int c = column(at_mm.x);
        const int r = row(at_mm.y);
        for (int y = std::max(0, r - 1); y <= std::min(rows_ - 1, r + 1); ++y) {
            for (int x = std::max(0, c - 1); x <= std::min(columns_ - 1, c + 1); ++x) {
                for (const Place& place : places_[index(x, y)]) {
                    const Vec2 off = place.at_mm - at_mm;
                    if (glm::dot(off, off) < least) {
                        least = glm::dot(off, off);
                        value = static_cast<double>(place.value);
                    }
                }
            }
        }
        return value;
    }

private:
    struct Place {
        Vec2 at_mm;
        float value;
    };
    [[nodiscard]] int cells(double length_mm) const {
        return static_cast<int>(std::clamp(std::ceil(length_mm / cell_mm_), 1.0, 4000.0));
    }
    [[nodiscard]] int column(double x) const {
        return std::clamp(static_cast<int>(std::floor((x - low_mm_.x) / cell_mm_)), 0, columns_ - 1);
    }
    [[nodiscard]] int row(double y) const {
        return std::clamp(static_cast<int>(std::floor((y - low_mm_.y) / cell_mm_)), 0, rows_ - 1);
    }
    [[nodiscard]] std::size_t index(int x, int y) const {
        return static_cast<std::size_t>(y) * static_cast<std::size_t>(columns_) + static_cast<std::size_t>(x);
    }

    Vec2 low_mm_;
    double cell_mm_;
    int columns_, rows_;
    std::vector<std::vector<Place>> places_;
};

/// The skin is lifted off the face by so much that it is seen and not the face, with the depth that a picture of a whole
/// mold resolves: nothing to the eye.
constexpr double kLifted_mm = 0.8;
// A few millimetres a square show what a map has to tell.
constexpr double kPlaces = 4.0e4;
// Patches of pressure are some 30 mm wide: no finer than that tells more.
constexpr double kPressurePlaces = 1.0e4;

/// The squares of the grid whose corners all have a value.
void draw_on(FaceMap& map, const DeckGrid& grid, const std::vector<std::optional<double>>& values) {
    auto surface = std::make_shared<TriangleMesh>();
    auto tint = std::make_shared<Tint>();
    std::vector<std::uint32_t> number(grid.places.size(), 0);
    for (std::size_t i = 0; i < grid.places.size(); ++i) {
        if (grid.places[i].there && values[i]) {
            number[i] = static_cast<std::uint32_t>(surface->vertices_mm.size());
            surface->vertices_mm.push_back(grid.places[i].at_mm + kLifted_mm * grid.places[i].normal);
            tint->push_back(map.scale.at(*values[i]));
        }
    }
    for (int row = 0; row + 1 < grid.rows; ++row) {
        for (int column = 0; column + 1 < grid.columns; ++column) {
            const std::size_t a = grid.index(column, row);
            const std::size_t b = grid.index(column + 1, row);
            const std::size_t c = grid.index(column + 1, row + 1);
            const std::size_t d = grid.index(column, row + 1);
            if (grid.square(column, row) && values[a] && values[b] && values[c] && values[d]) {
                surface->triangles.push_back({number[a], number[b], number[c]});
                surface->triangles.push_back({number[a], number[c], number[d]});
            }
        }
    }
    map.surface = std::move(surface);
    map.tint = std::move(tint);
}

std::string length_words(double mm, UnitSystem units) { return show_length(mm, units); }

FaceMap cavity_map(const Setup& setup, const CavityMeasure& measure, UnitSystem units) {
    FaceMap map;
    ColourScale& scale = map.scale;
    const double tolerance = setup.limits.cavity_tolerance_mm;
    const double found = std::max(std::abs(measure.normal.least_mm), std::abs(measure.normal.greatest_mm));
    scale.title = "Gap less stack";
    scale.high = "too wide";
    scale.low = "too narrow";
    scale.tolerance = tolerance;
    scale.most = std::clamp(found, kLeastEnds * tolerance, kMostEnds * tolerance);
    for (const double value : {-scale.most, -tolerance, 0.0, tolerance, scale.most}) {
        scale.ticks.push_back(
            {value, (value > 0 ? "+" : "") + length_words(value, units), std::abs(value) == tolerance});
    }
    // The coarsest squares of an adaptive map are eight steps wide.
    const PlanGrid& plan = measure.faces->lower_map().grid;
    const double cell = 8 * plan.step_mm;
    Nearest nearest(plan.first_mm, plan.at_mm(plan.size() - 1), cell);
    for (std::size_t i = 0; i < measure.map.samples.size(); ++i) {
        const GapSample& sample = measure.map.samples[i];
        if (sample.seen == Seen::faced) {
            nearest.add(Vec2(sample.at_mm), static_cast<float>(measure.map.excess_mm(i)));
        }
    }
    const DeckGrid grid = deck_grid_of(*measure.faces, kPlaces);
    std::vector<std::optional<double>> values(grid.places.size());
    for (std::size_t i = 0; i < grid.places.size(); ++i) {
        if (grid.places[i].there) {
            values[i] = nearest.at(Vec2(grid.places[i].at_mm), cell);
        }
    }
    draw_on(map, grid, values);
    return map;
}

/// Joints between the pieces that a mesh half is printed in.
PieceJoints print_joints(const Mold& mold) {
    if (!std::holds_alternative<MeshHalf>(mold.lower.shape) || !mold.print || !mold.print->build_volume_mm) {
        return {};
    }
    const Box box = bounds_of(*mold.lower.mesh);
    return joints_of(box, pieces_of(box.size_mm(), *mold.print->build_volume_mm));
}

/// The joints where they cross the face, from one row (or column) of the grid to the next.
void draw_joints(FaceMap& map, const DeckGrid& grid, const PlanGrid& plan, const PieceJoints& joints) {
    // Of a printer that is no larger than a hand every square would be framed.
    constexpr std::size_t kMost = 200;
    for (int axis = 0; axis < 2; ++axis) {
        const std::vector<double>& along = joints[static_cast<std::size_t>(axis)];
        const int across = axis == 0 ? grid.columns : grid.rows;
        const int length = axis == 0 ? grid.rows : grid.columns;
        for (const double at : along.size() <= kMost ? along : std::vector<double>{}) {
            const double cell = (at - plan.first_mm[axis]) / plan.step_mm;
            if (!(cell >= 0 && cell < across - 1)) {
                continue;
            }
            const int before = static_cast<int>(cell);
            std::optional<Vec3> last;
            for (int i = 0; i < length; ++i) {
                const DeckPlace& a = grid.places[axis == 0 ? grid.index(before, i) : grid.index(i, before)];
                const DeckPlace& b = grid.places[axis == 0 ? grid.index(before + 1, i) : grid.index(i, before + 1)];
                std::optional<Vec3> here;
                if (a.there && b.there) {
                    here = glm::mix(a.at_mm, b.at_mm, cell - before) + 2 * kLifted_mm * a.normal;
                }
                if (here && last) {
                    map.joints.emplace_back(*last, *here);
                }
                last = here;
            }
        }
    }
    if (!map.joints.empty()) {
        map.scale.lines = "joint of the print";
    }
}

FaceMap bend_map(const Mold& mold, const BendMeasure& measure, UnitSystem units) {
    FaceMap map;
    ColourScale& scale = map.scale;
    double least_radius = 0;
    for (const Ply& ply : mold.stack.plies) {
        const PlyWood wood = wood_of(ply);
        if (wood.breaks_along) {
            least_radius = std::max(least_radius, 1.5 * ply.thickness_mm / (2 * *wood.breaks_along));
        }
    }
    // Where the plies' wood is not known the scale ends at the tightest radius found.
    const double limit =
        least_radius > 0 ? 1 / least_radius : 1 / (measure.tightest_mm > 0 ? measure.tightest_mm : 1000.0);
    const double found = measure.tightest_mm > 0 ? 1 / measure.tightest_mm : 0;
    scale.title = "Curvature";
    scale.high = "hollow";
    scale.low = "crown";
    scale.tolerance = limit;
    scale.most = std::clamp(found, 1.5 * limit, kMostEnds * limit);
    for (const double value : {-scale.most, -limit, 0.0, limit, scale.most}) {
        scale.ticks.push_back(
            {value, value == 0 ? "flat" : "R " + length_words(1 / std::abs(value), units), std::abs(value) == limit});
    }
    DeckGrid grid{measure.lower.grid.columns, measure.lower.grid.rows, {}};
    std::vector<std::optional<double>> values;
    for (const BendSample& sample : measure.lower.samples) {
        const Curvature& face = sample.face;
        grid.places.push_back({sample.at_mm, face.normal, face.known});
        values.push_back(
            !face.known ? std::nullopt
                        : std::optional(std::abs(face.greatest) >= std::abs(face.least) ? face.greatest : face.least));
    }
    draw_on(map, grid, values);
    draw_joints(map, grid, measure.lower.grid, print_joints(mold));
    return map;
}

/// Patches of the deck as smooth as they are wide: each weighs by its distance.
class Smoothed {
public:
    explicit Smoothed(const std::vector<DeckPatch>& deck) : deck_(deck) {
        double area = 0;
        for (const DeckPatch& patch : deck) {
            area = std::max(area, patch.area_mm2);
        }
        width2_ = 0.5 * area;
    }
    [[nodiscard]] std::optional<double> at(Vec2 world_mm) const {
        double sum = 0;
        double weight = 0;
        for (const DeckPatch& patch : deck_) {
            const Vec2 off = patch.at_mm - world_mm;
            const double w = std::exp(-glm::dot(off, off) / width2_);
            sum += w * patch.pressure_MPa;
            weight += w;
        }
        return weight > 1e-6 ? std::optional(sum / weight) : std::nullopt;
    }

private:
    const std::vector<DeckPatch>& deck_;
    double width2_ = 1;
};

FaceMap pressure_map(const Setup& setup, const Opening& opening, const FacingHalves& faces, const FrameMeasure& measure,
                     UnitSystem units) {
    FaceMap map;
    const DeckPlan plan = deck_plan(setup, opening);
    const double mean = measure.force_N / plan.area_mm2();
    ColourScale& scale = map.scale;
    scale.title = "Pressure on the deck";
    scale.high = "pressed most";
    scale.low = "not pressed";
    scale.tolerance = 0.5 * mean;
    scale.most = mean;
    for (const double value : {-mean, -0.5 * mean, 0.0, 0.5 * mean, mean}) {
        scale.ticks.push_back({value,
                               show_pressure(mean + value, units) + (value == 0           ? " mean"
                                                                     : value > 0.6 * mean ? " and more"
                                                                                          : ""),
                               std::abs(std::abs(value) - 0.5 * mean) < 1e-12});
    }
    const Smoothed smoothed(measure.deck);
    const std::vector<Vec2> outline = deck_outline(*opening.mold);
    const Vec2 spot = setup.press->platen.centre_mm + opening.at_mm;
    const double c = std::cos(opening.turn_rad);
    const double s = std::sin(opening.turn_rad);
    const DeckGrid grid = deck_grid_of(faces, kPressurePlaces);
    std::vector<std::optional<double>> values(grid.places.size());
    for (std::size_t i = 0; i < grid.places.size(); ++i) {
        const Vec2 at{grid.places[i].at_mm};
        if (grid.places[i].there && inside_outline(outline, at)) {
            if (const auto pressed = smoothed.at(spot + Vec2{c * at.x - s * at.y, s * at.x + c * at.y})) {
                values[i] = *pressed - mean;
            }
        }
    }
    draw_on(map, grid, values);
    return map;
}

} // namespace

std::optional<MapKind> map_named(const std::string& word) {
    return word == "none"       ? std::optional{MapKind::none}
           : word == "cavity"   ? std::optional{MapKind::cavity}
           : word == "bend"     ? std::optional{MapKind::bend}
           : word == "pressure" ? std::optional{MapKind::pressure}
                                : std::nullopt;
}

std::optional<FaceMap> face_map(MapKind kind, const Setup& setup, const CheckResults& results, UnitSystem units,
                                std::size_t opening) {
    const auto cavity = opening < results.cavities.size() ? results.cavities[opening] : results.cavity;
    const auto bend = opening < results.bends.size() ? results.bends[opening] : results.bend;
    if (kind == MapKind::cavity && cavity && cavity->not_measured.empty()) {
        return cavity_map(setup, *cavity, units);
    }
    if (kind == MapKind::bend && bend && bend->not_measured.empty()) {
        return bend_map(*setup.openings[opening].mold, *bend, units);
    }
    if (kind == MapKind::pressure && results.frame && results.frame->computed() && !results.frame->deck.empty() &&
        cavity && cavity->not_measured.empty()) {
        return pressure_map(setup, setup.openings[opening], *cavity->faces, *results.frame, units);
    }
    return std::nullopt;
}

void lay_map(Frame& frame, const Assembly& assembly, const FaceMap& map) {
    const auto part_of = [&](const DrawnBody& body) {
        return body.body < assembly.bodies.size() ? assembly.bodies[body.body].part : Part::floor;
    };
    // Members too: a frame of posts and beams would stand before the face from most sides.
    std::erase_if(frame.bodies, [&](const DrawnBody& body) {
        const Part part = part_of(body);
        return part == Part::mold_upper || part == Part::head || part == Part::member ||
               part == Part::intermediate_platen;
    });
    std::optional<DrawnBody> laid;
    for (DrawnBody& body : frame.bodies) {
        if (part_of(body) == Part::mold_lower) {
            body.emphasis = Emphasis::plain;
            laid = DrawnBody{map.surface, body.pose, map.scale.at(0), Emphasis::plain, body.body, map.tint};
        } else {
            body.emphasis = Emphasis::dimmed;
        }
    }
    if (laid) {
        constexpr Colour kInk{0.13F, 0.19F, 0.23F, 1};
        for (const auto& [from, to] : map.joints) {
            frame.lines.push_back({laid->pose.apply(from), laid->pose.apply(to), kInk, 2.5F});
        }
        frame.bodies.push_back(*laid);
    }
}

Camera camera_for_map(const Assembly& assembly, Travel at, bool cut, double aspect) {
    Box box;
    for (const Body& body : assembly.bodies) {
        if ((body.part == Part::mold_lower || (cut && body.part == Part::mold_upper)) && body.mesh) {
            const Ride& ride = assembly.rides[body.ride];
            const Pose pose = pose_at(ride, body.placement, at, {});
            for (const Vec3& corner : corners_of(bounds_of(*body.mesh))) {
                box.add(pose.apply(corner));
            }
        }
    }
    if (box.empty()) {
        return {};
    }
    const auto corners = corners_of(box);
    return fit_camera(corners, {.towards_viewer = cut ? Vec3{0.10, -1.0, 0.12} : Vec3{0.25, -0.75, 1.0},
                                .up = {0, 0, 1},
                                .vertical_angle_rad = 0.5,
                                .parallel = false,
                                .aspect = aspect});
}

} // namespace evenclose
