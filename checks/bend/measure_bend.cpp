#include "checks/bend/bend.hpp"

#include "checks/cavity/forming_face.hpp"
#include "checks/deck.hpp"
#include "checks/mold_half.hpp"
#include "checks/outline.hpp"

#include <tbb/blocked_range.h>
#include <tbb/parallel_for.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

namespace evenclose {
namespace {

// So many looks at a face tell a smooth one; what is sharper than the spacing is looked at by its facets.
constexpr double kSamples = 2500;
constexpr double kClosest_mm = 2.0;
constexpr std::size_t kSharpPlaces = 48;
// Facets of a smooth face as CAD exports it turn by a few degrees; a modelled edge by much more (as forming_face.hpp).
const double kSharp_rad = 25.0 * 3.14159265358979323846 / 180.0;
// An edge this near the deck's rim is the rim's own.
constexpr double kRim_mm = 1.0;
// Both radii about 3 m: over a deck 200 mm wide that stretches a ply by 0.05 %, which no one notices.
constexpr double kDoubly = 1e-7;
// A curvature counts by what is certain of it: so many standard errors less than was found.
constexpr double kCertain = 2.0;
// Radii beyond 20 m are flat: a sixteenth of a millimetre over 3 m.
constexpr double kFlat = 1.0 / kFlatRadius_mm;

double certain(double curvature, double error) {
    return std::copysign(std::max(0.0, std::abs(curvature) - kCertain * error), curvature);
}

/// Curvature in direction `along` of the face offset by `off_mm` towards the side it is seen from; nothing where it
/// folds back.
std::optional<double> offset_curvature(const Curvature& face, const Vec3& along, double off_mm) {
    const double cosine = glm::dot(face.laid(along), face.first);
    const double greatest = certain(face.greatest, face.error);
    const double least = certain(face.least, face.error);
    if (greatest * off_mm >= 1 || least * off_mm >= 1) {
        return std::nullopt;
    }
    return greatest / (1 - greatest * off_mm) * cosine * cosine + least / (1 - least * off_mm) * (1 - cosine * cosine);
}

struct Half {
    const TriangleMesh& mesh;
    SeenFrom side;
};

class Looker {
public:
    Looker(const Half& half, const PlanGrid& grid, std::vector<Vec2> outline_mm)
        : half_(half), outline_mm_(std::move(outline_mm)), map_(height_map(half.mesh, grid, half.side)),
          forming_(forming_face(half.mesh, height_map(half.mesh, finer(grid), half.side), half.side)),
          face_(half.mesh, forming_.forming, forming_.vertex_normals) {}

    [[nodiscard]] BentFace look() const {
        BentFace result;
        result.grid = map_.grid;
        result.samples.resize(map_.grid.size());
        tbb::parallel_for(tbb::blocked_range<std::size_t>(0, result.samples.size(), 16), [&](const auto& range) {
            for (std::size_t i = range.begin(); i < range.end(); ++i) {
                const Vec2 place = map_.grid.at_mm(i);
                BendSample& sample = result.samples[i];
                sample.at_mm = {place, map_.seen(i) ? map_.z_mm(i) : 0.0};
                if (map_.seen(i) && forming_.forming[map_.triangle[i]] != 0 && inside_outline(outline_mm_, place)) {
                    ask(sample, map_.triangle[i]);
                    if (sample.face.known) {
                        const double step = map_.grid.step_mm;
                        sample.area_mm2 = step * step / std::max(0.05, std::abs(sample.face.normal.z));
                    }
                }
            }
        });
        look_at_edges(result);
        return result;
    }

private:
    /// Forming faces are told by a map no coarser than a millimetre.
    static PlanGrid finer(const PlanGrid& grid) {
        const double times = std::max(1.0, std::ceil(grid.step_mm));
        PlanGrid fine = grid;
        fine.step_mm = grid.step_mm / times;
        fine.first_mm = grid.first_mm - Vec2{0.5 * (grid.step_mm - fine.step_mm)};
        fine.columns = static_cast<int>(grid.columns * times);
        fine.rows = static_cast<int>(grid.rows * times);
        return fine;
    }

    void ask(BendSample& sample, std::uint32_t triangle) const {
        sample.face = face_.at(sample.at_mm, normal_at(half_.mesh, forming_, half_.side, triangle, sample.at_mm));
        if (sample.face.known) {
            sample.lengthwise = sample.face.in({1, 0, 0});
            const Vec3 sideways = glm::cross(sample.face.normal, sample.face.laid({1, 0, 0}));
            sample.crosswise = sample.face.in(sideways);
        }
    }

    void look_at_edges(BentFace& result) const {
        std::vector<TurnedEdge> edges = turned_edges(half_.mesh, forming_.forming);
        std::erase_if(edges, [&](const TurnedEdge& edge) {
            const Vec2 at{edge.middle_mm};
            return !inside_outline(outline_mm_, at) || distance_to_outline_mm(outline_mm_, at) < kRim_mm;
        });
        for (const TurnedEdge& edge : edges) {
            if (edge.turn_rad > kSharp_rad) {
                result.creased_mm += edge.length_mm;
                if (edge.turn_rad > result.crease_rad) {
                    result.crease_rad = edge.turn_rad;
                    result.crease_mm = edge.middle_mm;
                }
            }
        }
        std::stable_sort(edges.begin(), edges.end(),
                         [](const TurnedEdge& a, const TurnedEdge& b) { return a.a_mm > b.a_mm; });
        for (const TurnedEdge& edge : edges) {
            if (result.sharpest.size() == kSharpPlaces || edge.a_mm < kFlat) {
                break;
            }
            const bool beside = std::any_of(result.sharpest.begin(), result.sharpest.end(), [&](const BendSample& s) {
                return glm::length(s.at_mm - edge.middle_mm) < result.grid.step_mm;
            });
            if (!beside) {
                result.sharpest.push_back({edge.middle_mm, {}, 0, 0, 0, 0});
                ask(result.sharpest.back(), edge.triangle);
            }
        }
    }

    const Half& half_;
    std::vector<Vec2> outline_mm_;
    HeightMap map_;
    FormingFace forming_;
    CurvedFace face_;
};

/// In-plane strain along every row and column: K integrated twice, greatest less least.
void stretch_by_double_curvature(BentFace& face) {
    const PlanGrid& grid = face.grid;
    const auto lines = [&](int count, int length, auto index_of, auto keep) {
        for (int line = 0; line < count; ++line) {
            double slope = 0;
            double strain = 0;
            double before_K = 0;
            std::vector<std::pair<double, double>> along; // place, strain
            double place = 0;
            const BendSample* before = nullptr;
            const auto close = [&] {
                if (along.size() > 1) {
                    // A straight line in it is the strip lying skew, which stretches nothing: taken off end to end.
                    const auto [s0, e0] = along.front();
                    const auto [s1, e1] = along.back();
                    double least = 0;
                    double most = 0;
                    for (const auto& [s, e] : along) {
                        const double off = e - (e0 + (e1 - e0) * (s - s0) / (s1 - s0));
                        least = std::min(least, off);
                        most = std::max(most, off);
                    }
                    keep(line, most - least);
                }
                along.clear();
                slope = strain = place = 0;
                before = nullptr;
            };
            for (int i = 0; i < length; ++i) {
                const BendSample& sample = face.samples[index_of(line, i)];
                if (!sample.face.known) {
                    close();
                    continue;
                }
                const double K =
                    certain(sample.face.greatest, sample.face.error) * certain(sample.face.least, sample.face.error);
                if (before != nullptr) {
                    const double step = glm::length(sample.at_mm - before->at_mm);
                    strain += slope * step - 0.5 * K * step * step / 3 - before_K * step * step / 3;
                    slope -= 0.5 * (K + before_K) * step;
                    place += step;
                }
                before_K = K;
                before = &sample;
                along.emplace_back(place, strain);
            }
            close();
        }
    };
    std::vector<double> across(static_cast<std::size_t>(grid.columns), 0.0);
    std::vector<double> lengthwise(static_cast<std::size_t>(grid.rows), 0.0);
    lines(
        grid.columns, grid.rows, [&](int column, int row) { return grid.index(column, row); },
        [&](int column, double range) { across[column] = std::max(across[column], range); });
    lines(
        grid.rows, grid.columns, [&](int row, int column) { return grid.index(column, row); },
        [&](int row, double range) { lengthwise[row] = std::max(lengthwise[row], range); });
    for (int row = 0; row < grid.rows; ++row) {
        for (int column = 0; column < grid.columns; ++column) {
            BendSample& sample = face.samples[grid.index(column, row)];
            sample.stretch = sample.face.known ? std::min(across[column], lengthwise[row]) : 0;
        }
    }
}

template <class Do> void each_sample(const BentFace& face, Do&& act) {
    for (const std::vector<BendSample>* list : {&face.samples, &face.sharpest}) {
        for (const BendSample& sample : *list) {
            if (sample.face.known) {
                act(sample);
            }
        }
    }
}

void worst_ply(BendMeasure& measure, const PlyStack& stack) {
    double height = 0;
    for (std::size_t i = 0; i < stack.plies.size(); ++i) {
        const Ply& ply = stack.plies[i];
        const PlyWood wood = wood_of(ply);
        // The squeeze is shared out evenly.
        const double pressed = measure.stack_mm / stack.loose_thickness_mm();
        const double middle = pressed * (height + 0.5 * ply.thickness_mm);
        height += ply.thickness_mm + stack.glue_line_mm;
        if (!wood.breaks_along || !wood.breaks_across) {
            measure.unknown.push_back(i);
            continue;
        }
        const bool from_upper = middle > 0.5 * measure.stack_mm;
        const double off = from_upper ? measure.stack_mm - middle : middle;
        each_sample(from_upper ? measure.upper : measure.lower, [&](const BendSample& sample) {
            const Vec3 lengthwise = sample.face.laid({1, 0, 0});
            const Vec3 crosswise = glm::cross(sample.face.normal, lengthwise);
            const bool along = ply.grain == Grain::along;
            for (const bool with_grain : {true, false}) {
                const auto curvature = offset_curvature(sample.face, with_grain == along ? lengthwise : crosswise, off);
                if (!curvature || std::abs(*curvature) < kFlat) {
                    continue; // fold-back is told by itself
                }
                PlyBend bend;
                bend.ply = i;
                bend.radius_mm = 1 / std::abs(*curvature);
                bend.strain = 0.5 * ply.thickness_mm * std::abs(*curvature);
                bend.breaks = with_grain ? *wood.breaks_along : *wood.breaks_across;
                bend.tried = with_grain ? wood.tried_along : wood.tried_across;
                bend.at_mm = sample.at_mm;
                bend.from_upper = from_upper;
                std::optional<PlyBend>& worst = with_grain ? measure.with_grain : measure.across_grain;
                // Plies alike at one radius: the first is told, not the one that rounding favours.
                if (!worst || bend.use() > worst->use() * (1 + 1e-9)) {
                    worst = bend;
                }
            }
        });
    }
}

} // namespace

double surely_bent(const Curvature& face) {
    return face.known
               ? std::max(std::abs(certain(face.greatest, face.error)), std::abs(certain(face.least, face.error)))
               : 0;
}

BendMeasure measure_bend(const Setup& setup, const Assembly& assembly, Progress& progress) {
    BendMeasure measure;
    measure.closed = assembly.closed;
    const Body* lower = half_of(assembly, Part::mold_lower);
    const Body* upper = half_of(assembly, Part::mold_upper);
    if (lower == nullptr || upper == nullptr) {
        measure.not_measured = "there is no mold in the press";
        return measure;
    }
    const Mold& mold = *setup.openings.front().mold;
    measure.stack_mm = mold.stack.pressed_thickness_mm();
    measure.lower_to_world = pose_when_closed(assembly, *lower);
    measure.upper_to_world = upper->placement;
    measure.spring_back = spring_back(mold.stack);

    const std::vector<Vec2> outline = deck_outline(mold);
    const Box below = bounds_of(*mold.lower.mesh);
    const Box above = bounds_of(*mold.upper.mesh);
    Vec2 low = glm::max(Vec2(below.low_mm), Vec2(above.low_mm));
    Vec2 high = glm::min(Vec2(below.high_mm), Vec2(above.high_mm));
    if (!outline.empty()) {
        low = high = outline.front();
        for (const Vec2& corner : outline) {
            low = glm::min(low, corner);
            high = glm::max(high, corner);
        }
    }
    if (!(low.x < high.x && low.y < high.y)) {
        measure.not_measured = "the halves do not stand above each other";
        return measure;
    }
    const double step = std::max(kClosest_mm, std::sqrt((high.x - low.x) * (high.y - low.y) / kSamples));
    const PlanGrid grid = grid_over(low, high, step);
    const Half lower_half{*mold.lower.mesh, SeenFrom::above};
    const Half upper_half{*mold.upper.mesh, SeenFrom::below};
    measure.lower = Looker(lower_half, grid, outline).look();
    progress.tell(0.5);
    if (progress.cancelled()) {
        measure.not_measured = "it was stopped";
        return measure;
    }
    measure.upper = Looker(upper_half, grid, outline).look();
    progress.tell(0.95);

    stretch_by_double_curvature(measure.lower);
    double sharpest = 0;
    for (const bool of_upper : {false, true}) {
        each_sample(of_upper ? measure.upper : measure.lower, [&](const BendSample& sample) {
            const double greatest = certain(sample.face.greatest, sample.face.error);
            const double least = certain(sample.face.least, sample.face.error);
            if (surely_bent(sample.face) > sharpest) {
                sharpest = surely_bent(sample.face);
                measure.tightest_at_mm = sample.at_mm;
                measure.tightest_of_upper = of_upper;
            }
            if (greatest * measure.stack_mm > measure.fold) {
                measure.fold = greatest * measure.stack_mm;
                measure.fold_at_mm = sample.at_mm;
                measure.fold_from_upper = of_upper;
            }
            if (!of_upper) {
                measure.whole_mm2 += sample.area_mm2;
                measure.doubly_mm2 += std::abs(greatest * least) > kDoubly ? sample.area_mm2 : 0;
                if (sample.stretch > measure.stretch) {
                    measure.stretch = sample.stretch;
                    measure.stretch_at_mm = sample.at_mm;
                }
            }
        });
    }
    measure.tightest_mm = sharpest > kFlat ? 1 / sharpest : 0;
    if (!(measure.whole_mm2 > 0)) {
        measure.not_measured = "no forming face was found over the deck, or it has too few corners to tell a curvature";
        return measure;
    }
    worst_ply(measure, mold.stack);
    progress.tell(1.0);
    return measure;
}

} // namespace evenclose
