#include "checks/load_in/load_in.hpp"

#include "checks/travel/travel.hpp"
#include "scene/motion/drawn_pose.hpp"

#include <glm/geometric.hpp>
#include <tbb/parallel_for.h>

#include <algorithm>
#include <atomic>
#include <cmath>
#include <map>
#include <stdexcept>

namespace evenclose {
namespace {

// Nobody saws a decimetre off a mold; what is farther off than this is told as "more than".
constexpr double kFarthest_mm = 400;
constexpr double kShiftStep_mm = 0.05; // a shift is told this closely
// Below a foul is a foul, above it is free: shapes that just slide along each other touch.
constexpr double kFree_mm = 0.02;

bool is_mold(Part part) { return part == Part::mold_lower || part == Part::mold_upper; }

/// Proper, and brings `along` to +Z.
Mat3 upright(const Vec3& along) {
    const Vec3 across = glm::normalize(glm::cross(Vec3{0, 0, 1}, along)); // along is level
    // Rows are the new axes: X = across, Y = Z x X = along x across, Z = along.
    return glm::transpose(Mat3{across, glm::cross(along, across), along});
}

struct Obstacle {
    std::size_t body = 0;
    SharedMesh drawn;
    SharedClearanceMesh mesh;
    Pose pose; // turned
    std::string refused;
};

/// All that stays the same while sides, steps and shifts are tried.
class Surroundings {
public:
    Surroundings(const Setup& setup, const Assembly& assembly) : setup_(setup), assembly_(assembly) {}

    /// What a mesh is prepared as, once. Null if it cannot be used: `refused` says why.
    SharedClearanceMesh prepared(const SharedMesh& mesh, std::string& refused) {
        Entry& entry = entries_[mesh.get()];
        if (!entry.mesh && entry.refused.empty()) {
            entry.keeps = mesh;
            try {
                entry.mesh = prepare(mesh);
            } catch (const std::invalid_argument& refusal) {
                entry.refused = refusal.what();
            }
        }
        refused = entry.refused;
        return entry.mesh;
    }

    [[nodiscard]] std::vector<Obstacle> obstacles(const LoadStep& step, const Mat3& turn) {
        std::vector<Obstacle> result;
        for (std::size_t i = 0; i < assembly_.bodies.size(); ++i) {
            const Body& body = assembly_.bodies[i];
            const bool in_place = std::find(step.in_place.begin(), step.in_place.end(), i) != step.in_place.end();
            if (!body.drawn || body.part == Part::floor || (is_mold(body.part) && !in_place)) {
                continue;
            }
            Obstacle obstacle;
            obstacle.body = i;
            obstacle.drawn = drawn_mesh(assembly_, body, {0});
            obstacle.mesh = prepared(obstacle.drawn, obstacle.refused);
            obstacle.pose = Pose{turn, {}} * drawn_pose(assembly_, body, {0});
            result.push_back(std::move(obstacle));
        }
        return result;
    }

    [[nodiscard]] const Setup& setup() const { return setup_; }
    [[nodiscard]] const Assembly& assembly() const { return assembly_; }

private:
    struct Entry {
        SharedMesh keeps;
        SharedClearanceMesh mesh;
        std::string refused;
    };
    const Setup& setup_;
    const Assembly& assembly_;
    std::map<const TriangleMesh*, Entry> entries_;
};

bool fouls(Contact contact) {
    return contact == Contact::foul || contact == Contact::inside || contact == Contact::touching;
}

Ride way_in(double distance_mm) {
    Ride ride;
    ride.knots = {{{0}, 0, {}}, {{distance_mm}, distance_mm, {}}};
    return ride;
}

/// One step of the way in, with everything prepared, turned upright.
class Passing {
public:
    Passing(Surroundings& surroundings, const LoadPath& path, std::size_t step)
        : path_(path), step_(path.steps[step]), turn_(upright(path.along)), ride_(way_in(path.distance_mm)),
          obstacles_(surroundings.obstacles(step_, turn_)) {
        for (const LoadPiece& piece : step_.pieces) {
            refused_.emplace_back();
            meshes_.push_back(surroundings.prepared(piece.mesh, refused_.back()));
        }
    }

    [[nodiscard]] const std::vector<Obstacle>& obstacles() const { return obstacles_; }
    [[nodiscard]] bool slides_on(std::size_t piece, const Obstacle& obstacle) const {
        const std::vector<std::size_t>& on = step_.pieces[piece].slides_on;
        return std::find(on.begin(), on.end(), obstacle.body) != on.end();
    }

    [[nodiscard]] Sweep pass(std::size_t piece, const Obstacle& obstacle, const Vec3& shift_mm, double interest_mm,
                             Progress& progress) const {
        if (!meshes_[piece] || !obstacle.mesh) {
            Sweep none;
            none.why_not = meshes_[piece] ? obstacle.refused : refused_[piece];
            return none;
        }
        SweepRequest request;
        request.from = {0};
        request.to = {path_.distance_mm};
        request.interest_mm = interest_mm;
        Sweep result = sweep({meshes_[piece], outside(piece, shift_mm), &ride_},
                             {obstacle.mesh, obstacle.pose, nullptr}, request, progress);
        const Mat3 back = glm::transpose(turn_);
        result.on_first_mm = back * result.on_first_mm;
        result.on_second_mm = back * result.on_second_mm;
        return result;
    }

    /// No contact at any place that is tried, a few millimetres apart, where piece and obstacle overlap along the way. What
    /// is told as missing is measured so; that the way as it is, or a shift, is free is certified by a sweep.
    [[nodiscard]] bool seems_free(const Obstacle& obstacle, const Vec3& shift_mm) const {
        constexpr int kMostPlaces = 96;
        constexpr double kStep_mm = 3.0;
        for (std::size_t piece = 0; piece < meshes_.size(); ++piece) {
            if (slides_on(piece, obstacle) || !meshes_[piece] || !obstacle.mesh) {
                continue;
            }
            const SweptBody moving{meshes_[piece], outside(piece, shift_mm), &ride_};
            const SweptBody still{obstacle.mesh, obstacle.pose, nullptr};
            const Box a = bounds_of(*step_.pieces[piece].mesh, moving.placement);
            const Box b = bounds_of(*obstacle.drawn, obstacle.pose);
            if (a.high_mm.x < b.low_mm.x || b.high_mm.x < a.low_mm.x || a.high_mm.y < b.low_mm.y ||
                b.high_mm.y < a.low_mm.y) {
                continue; // they pass each other, seen along the way
            }
            const double from = std::max(0.0, b.low_mm.z - a.high_mm.z);
            const double to = std::min(path_.distance_mm, b.high_mm.z - a.low_mm.z);
            const int places = std::clamp(static_cast<int>((to - from) / kStep_mm), 1, kMostPlaces);
            for (int i = 0; i <= places && from <= to; ++i) {
                // From the middle outwards: that is where most is found.
                const int k = places / 2 + (i % 2 == 0 ? i / 2 : -(i + 1) / 2);
                const Travel at{from + (to - from) * std::clamp(k, 0, places) / places};
                if (fouls(clearance_at(moving, still, at, {}, kFree_mm, kFree_mm).contact)) {
                    return false;
                }
            }
        }
        return true;
    }

    /// All pieces pass the obstacle, shifted by so much; certified.
    [[nodiscard]] bool free(const Obstacle& obstacle, const Vec3& shift_mm, Progress& progress) const {
        if (!seems_free(obstacle, shift_mm)) {
            return false;
        }
        for (std::size_t piece = 0; piece < meshes_.size(); ++piece) {
            if (slides_on(piece, obstacle) || !meshes_[piece] || !obstacle.mesh) {
                continue;
            }
            const Sweep seen = pass(piece, obstacle, shift_mm, 1.0, progress);
            if (seen.contact != Contact::clear || seen.least_lower_mm < kFree_mm) {
                return false;
            }
        }
        return true;
    }

    /// The least shift along `way` with which the passage past one obstacle seems free, from `start`; none within `most`.
    [[nodiscard]] std::optional<double> least_shift(const Obstacle& obstacle, const Vec3& start_mm, const Vec3& way,
                                                    double most_mm, Progress& progress) const {
        if (seems_free(obstacle, start_mm)) {
            return 0.0;
        }
        double blocked = 0;
        double clear = std::min(1.0, most_mm);
        while (!seems_free(obstacle, start_mm + clear * way)) {
            if (clear >= most_mm || progress.cancelled()) {
                return std::nullopt;
            }
            blocked = clear;
            clear = std::min(2 * clear, most_mm);
        }
        while (clear - blocked > kShiftStep_mm) {
            const double half = 0.5 * (blocked + clear);
            (seems_free(obstacle, start_mm + half * way) ? clear : blocked) = half;
        }
        return clear;
    }

    /// The first obstacle that is in the way when all is shifted so.
    [[nodiscard]] const Obstacle* blocked_by(const Vec3& shift_mm, Progress& progress) const {
        for (const Obstacle& obstacle : obstacles_) {
            if (!free(obstacle, shift_mm, progress)) {
                return &obstacle;
            }
        }
        return nullptr;
    }

private:
    /// Where a piece starts from, turned.
    [[nodiscard]] Pose outside(std::size_t piece, const Vec3& shift_mm) const {
        Pose pose = step_.pieces[piece].seated;
        pose.translation_mm += shift_mm - path_.distance_mm * path_.along;
        return Pose{turn_, {}} * pose;
    }

    const LoadPath& path_;
    const LoadStep& step_;
    Mat3 turn_;
    Ride ride_;
    std::vector<Obstacle> obstacles_;
    std::vector<SharedClearanceMesh> meshes_;
    std::vector<std::string> refused_;
};

/// Why the way is barred by this body: to which side it would be free, and what is there.
Obstruction obstruction_of(const Passing& passing, const LoadPath& path, const LoadPassage& passage,
                           Progress& progress) {
    Obstruction result;
    result.step = passage.step;
    result.by = passage.past;
    result.at_mm = passage.sweep.on_second_mm;
    const Obstacle& obstacle = *std::find_if(passing.obstacles().begin(), passing.obstacles().end(),
                                             [&](const Obstacle& o) { return o.body == passage.past; });
    const Vec3 right = glm::cross(path.along, Vec3{0, 0, 1}); // as the one who pushes sees it
    std::optional<double> least;
    Vec3 way{0.0};
    for (const Vec3& tried : {right, -right, Vec3{0, 0, -1}, Vec3{0, 0, 1}}) {
        const std::optional<double> shift =
            passing.least_shift(obstacle, {}, tried, least.value_or(kFarthest_mm), progress);
        if (shift && (!least || *shift < *least)) {
            least = shift;
            way = tried;
        }
    }
    if (!least) { // in the way on all sides: a wall
        result.missing_mm = kFarthest_mm;
        return result;
    }
    result.missing_mm = *least;
    if (way.z != 0) { // what slides on the platen cannot go lower, nor what hangs higher: it is too tall
        result.too_tall = true;
        return result;
    }
    // Farther the same way while what is then in the way asks for that; until the way is free, or the other side bars it.
    double shift = *least;
    while (const Obstacle* other = passing.blocked_by(shift * way, progress)) {
        const std::optional<double> on = passing.least_shift(*other, shift * way, way, kFarthest_mm, progress);
        const std::optional<double> back = passing.least_shift(*other, shift * way, -way, kFarthest_mm, progress);
        if (progress.cancelled()) {
            return result;
        }
        if (on && *on == 0) { // nothing seen where it was tried, but not certified either: a little farther
            shift += kShiftStep_mm;
            continue;
        }
        if (!on || (back && *back <= *on) || shift + *on > kFarthest_mm) {
            result.and_by = other->body;
            result.missing_mm = back.value_or(kFarthest_mm);
            return result;
        }
        shift += *on;
    }
    result.missing_mm = shift;
    result.shift_mm = shift * way;
    return result;
}

/// Of all pairs that a step is too wide for, and of all that one shift frees, only the worst is worth telling.
void tell(std::vector<Obstruction>& obstructions, Obstruction found) {
    const auto kind = [](const Obstruction& o) {
        return std::pair(o.too_tall, std::pair(o.and_by.has_value(), o.step));
    };
    const auto like = std::find_if(obstructions.begin(), obstructions.end(),
                                   [&](const Obstruction& o) { return kind(o) == kind(found); });
    if (like == obstructions.end()) {
        obstructions.push_back(found);
    } else if (found.missing_mm > like->missing_mm) {
        *like = found;
    }
}

bool goes_from(Surroundings& surroundings, PressSide side, Progress& progress) {
    const LoadPath path = load_path(surroundings.setup(), surroundings.assembly(), side);
    for (std::size_t step = 0; step < path.steps.size(); ++step) {
        const Passing passing(surroundings, path, step);
        if (passing.blocked_by({}, progress) != nullptr || progress.cancelled()) {
            return false;
        }
    }
    return true;
}

} // namespace

LoadInMeasure measure_load_in(const Setup& setup, const Assembly& assembly, Progress& progress) {
    LoadInMeasure measure;
    measure.path = load_path(setup, assembly, *setup.press->load_from);
    Surroundings surroundings(setup, assembly);
    const double interest = interest_mm(setup.limits);
    Progress quiet(progress, 0, 0);

    for (std::size_t step = 0; step < measure.path.steps.size(); ++step) {
        const Passing passing(surroundings, measure.path, step);
        std::vector<LoadPassage> passages;
        for (std::size_t piece = 0; piece < measure.path.steps[step].pieces.size(); ++piece) {
            for (const Obstacle& obstacle : passing.obstacles()) {
                if (!passing.slides_on(piece, obstacle)) {
                    passages.push_back({step, piece, obstacle.body, {}});
                }
            }
        }
        std::atomic<std::size_t> done{0};
        const double share = 0.7 / static_cast<double>(measure.path.steps.size());
        tbb::parallel_for(std::size_t{0}, passages.size(), [&](std::size_t i) {
            LoadPassage& passage = passages[i];
            const Obstacle& obstacle = *std::find_if(passing.obstacles().begin(), passing.obstacles().end(),
                                                     [&](const Obstacle& o) { return o.body == passage.past; });
            passage.sweep = passing.pass(passage.piece, obstacle, {}, interest, quiet);
            progress.tell(share * (static_cast<double>(step) +
                                   static_cast<double>(++done) / static_cast<double>(passages.size())));
        });
        std::vector<std::size_t> told;
        for (LoadPassage& passage : passages) {
            const Sweep& seen = passage.sweep;
            if (fouls(seen.contact) && std::find(told.begin(), told.end(), passage.past) == told.end()) {
                told.push_back(passage.past);
                tell(measure.obstructions, obstruction_of(passing, measure.path, passage, quiet));
            }
            if (seen.contact != Contact::clear || seen.least_lower_mm < interest) {
                measure.passages.push_back(std::move(passage));
            }
        }
    }
    if (!measure.obstructions.empty()) {
        for (const PressSide side : {PressSide::front, PressSide::back, PressSide::left, PressSide::right}) {
            if (side != measure.path.from && goes_from(surroundings, side, quiet)) {
                measure.goes_from.push_back(side);
            }
        }
    }
    progress.tell(1);
    measure.cancelled = progress.cancelled();
    return measure;
}

} // namespace evenclose
