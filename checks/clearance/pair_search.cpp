#include "checks/clearance/pair_search.hpp"

#include "checks/clearance/box_bound.hpp"
#include "checks/clearance/support.hpp"
#include "checks/clearance/triangle_bounds.hpp"

#include <tbb/parallel_for.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace evenclose {
namespace {

constexpr std::size_t kTasksInRound = 64; // more than any desk's threads, few enough to merge cheaply
constexpr std::size_t kItemsInTask = 8;
constexpr int kNodesToSharpen = 4;       // of one body, against taking the pair apart
constexpr int kSharpenings = 4;          // directions tried
constexpr std::size_t kQuota = 16384;    // pairs a task looks at before it hands back: some milliseconds
constexpr std::size_t kFirstQuota = 512; // while there is too little work to share
// Every task has a copy of the cells it works on: this many for all are some 200 MB for a round. No stroke with a sound
// mesh needs a tenth.
constexpr std::size_t kMostCells = 12'000;
constexpr double kLeastCut_mm = 1e-5; // travel: cells are not cut finer, contact or not
// Parts of the slope box looked at for one pair of triangles in one cell. A jack's envelope (a milliradian on half a metre,
// so half a millimetre, cut to 0.01 in two axes) needs some 2000 at worst; without an end to it a wild envelope would
// never be cancelled, nor done.
constexpr int kMostSlopeParts = 256;
constexpr std::uint32_t kPlace = 1U << 31U; // marks a triangle's place in the order instead of a node

/// A pair of nodes (or of triangles) and the cells in which it still matters.
struct Work {
    std::uint32_t a = 0, b = 0;
    std::uint32_t from = 0, to = 0;
    float share = 1; // of the whole search, for progress
};

/// Where an unsettled cell would best be cut. Greater kinds win; among starts the earliest, among ends the latest.
struct Cut {
    enum class Kind { none, middle, start_of_contact, end_of_contact };
    Kind kind = Kind::none;
    double at_mm = 0;

    void take(const Cut& other) {
        if (other.kind != kind ? other.kind > kind
                               : (kind == Kind::start_of_contact && other.at_mm < at_mm) ||
                                     (kind == Kind::end_of_contact && other.at_mm > at_mm)) {
            *this = other;
        }
    }
};

struct CellState {
    bool unsettled = false;
    Cut cut;
};

/// How often sharpening was tried for pairs that are alike, and settled them.
struct Tried {
    std::uint32_t times = 0, settled = 0;
};
using TriedByLikeness = std::array<Tried, 12 * 4 * 4>;

class Task {
public:
    Task(const SearchedPair& pair, const RelativeMotion& motion, const Goal& goal, std::vector<TravelCell>& cells,
         std::vector<CellState>& states)
        : pair_(pair), motion_(motion), goal_(goal), triangles_(pair.first_mesh, pair.second_mesh, motion),
          cells_(cells), states_(states), shift_first_(motion.first.turn * pair.first.origin() + motion.first.shift_mm),
          shift_second_(motion.second.turn * pair.second.origin() + motion.second.shift_mm),
          first_as_is_(!motion.first.tilts) {}

    void run(std::vector<Work>& stack, std::size_t quota) {
        while (!stack.empty() && counts.boxes + counts.triangles < quota) {
            const Work work = stack.back();
            stack.pop_back();
            if ((work.a & kPlace) != 0) {
                triangle_pair(work);
            } else {
                node_pair(work, stack);
            }
        }
    }

    /// Leaves work undone: its cells promise no more than the boxes' bound.
    void give_up(const Work& work) {
        double lower = 0;
        if ((work.a & kPlace) == 0) {
            const PlacedBox a = placed(pair_.first.node(work.a), motion_.first.turn, shift_first_);
            const PlacedBox b = placed(pair_.second.node(work.b), motion_.second.turn, shift_second_);
            const Line line = box_line(a, b, work.from, work.to);
            lower = std::max(0.0, std::min(line.at_from, line.at_to));
        }
        for (std::uint32_t i = work.from; i < work.to; ++i) {
            cells_[i].given_up_mm = std::min(cells_[i].given_up_mm, lower);
        }
    }

    std::vector<Work> put_off;
    double settled = 0; // share of the whole
    SearchCounts counts;
    TriedByLikeness tried{};

private:
    // Of nodes ------------------------------------------------------------------------------------------------------

    [[nodiscard]] double tilt_term(const Vec3& direction, const PlacedBox& box, const Vec3& centre,
                                   const BodyInFrame& body, const SlopeRange& off) const {
        const auto least = [&](const Vec3& row, double low, double high) {
            const double middle = glm::dot(row, centre - body.pivot_mm);
            double spread = 0;
            for (int i = 0; i < 3; ++i) {
                spread += box.half[i] * std::abs(glm::dot(row, box.axis[i]));
            }
            const auto at = [&](double slope) { return slope * middle - std::abs(slope) * spread; };
            return std::min(at(low), at(high));
        };
        return least(direction * body.per_x, off.low.x, off.high.x) +
               least(direction * body.per_y, off.low.y, off.high.y);
    }

    /// What tilting can take off a bound along `direction`.
    void add_tilt(Line& line, const Vec3& direction, const PlacedBox& a, const PlacedBox& b, const TravelCell& head,
                  const TravelCell& tail) const {
        const double off = motion_.second_order(direction) * (1 + 1e-6);
        line.at_from -= off;
        line.at_to -= off;
        if (motion_.second.tilts) {
            line.at_from += tilt_term(direction, b, b.centre, motion_.second, head.second_from);
            line.at_to += tilt_term(direction, b, b.centre, motion_.second, tail.second_to);
        }
        if (motion_.first.tilts) {
            line.at_from += tilt_term(-direction, a, a.centre, motion_.first, head.first_from);
            line.at_to += tilt_term(-direction, a, a.centre, motion_.first, tail.first_to);
        }
    }

    [[nodiscard]] Line box_line(const PlacedBox& a, const PlacedBox& b, std::uint32_t from, std::uint32_t to,
                                Vec3* direction = nullptr) const {
        const TravelCell& head = cells_[from];
        const TravelCell& tail = cells_[to - 1];
        const double middle =
            to - from == 1 ? 0.5 * (head.rise_from + head.rise_to) : cells_[(from + to) / 2].rise_from;
        const Vec3 offset = b.centre - a.centre + middle * motion_.up;
        const Separation parted = separation(a, b, offset);
        if (direction != nullptr) {
            *direction = parted.direction;
        }
        const double along = glm::dot(parted.direction, motion_.up);
        const double ride = std::max(std::abs(head.rise_from - middle), std::abs(tail.rise_to - middle));
        const double base = parted.distance - axis_rounding(a, b, offset, ride) - motion_.rounding_mm;
        Line line{base + along * (head.rise_from - middle), base + along * (tail.rise_to - middle)};
        if (triangles_.tilts()) {
            add_tilt(line, parted.direction, a, b, head, tail);
        }
        return line;
    }

    [[nodiscard]] bool all_unsettled(std::uint32_t from, std::uint32_t to) const {
        for (std::uint32_t i = from; i < to; ++i) {
            if (!states_[i].unsettled && !cells_[i].in_contact()) {
                return false;
            }
        }
        return true;
    }

    void node_pair(Work work, std::vector<Work>& stack) {
        const BoxNode& na = pair_.first.node(work.a);
        const BoxNode& nb = pair_.second.node(work.b);
        const PlacedBox a =
            first_as_is_ ? placed_as_is(na, shift_first_) : placed(na, motion_.first.turn, shift_first_);
        const PlacedBox b = placed(nb, motion_.second.turn, shift_second_);
        for (int again = 0; again < 3; ++again) {
            const std::uint32_t width = work.to - work.from;
            ++counts.boxes;
            Vec3 direction;
            const Line line = box_line(a, b, work.from, work.to, &direction);
            trim(cells_, line, work.from, work.to);
            if (work.from != work.to) {
                sharpen_if_worth_it(work, direction, a, b, na, nb);
            }
            if (work.from == work.to) {
                settled += work.share;
                return;
            }
            if (2 * (work.to - work.from) > width) {
                break;
            }
        }
        if (all_unsettled(work.from, work.to)) {
            put_off.push_back(work);
            return;
        }
        const double ride = std::abs(cells_[work.to - 1].rise_to - cells_[work.from].rise_from);
        if (work.to - work.from > 1 && ride > na.radius + nb.radius) {
            const std::uint32_t middle = (work.from + work.to) / 2;
            stack.push_back({work.a, work.b, middle, work.to, 0.5F * work.share});
            stack.push_back({work.a, work.b, work.from, middle, 0.5F * work.share});
        } else if (na.leaf() && nb.leaf()) {
            leaf_pair(work, na, nb);
        } else if (!na.leaf() && (nb.leaf() || na.radius >= nb.radius)) {
            stack.push_back({na.first, work.b, work.from, work.to, 0.5F * work.share});
            stack.push_back({na.first + 1, work.b, work.from, work.to, 0.5F * work.share});
        } else {
            stack.push_back({work.a, nb.first, work.from, work.to, 0.5F * work.share});
            stack.push_back({work.a, nb.first + 1, work.from, work.to, 0.5F * work.share});
        }
    }

    /// Two leaves always: their triangles in pairs cost far more. Else by what came of it for pairs alike (in size, and in
    /// how their slabs lie to the direction): for rims it nearly always settles the pair, for patches that fill their boxes
    /// it hardly ever does.
    void sharpen_if_worth_it(Work& work, const Vec3& direction, const PlacedBox& a, const PlacedBox& b,
                             const BoxNode& na, const BoxNode& nb) {
        if (na.leaf() && nb.leaf()) {
            sharpen(work, direction, a, b);
            return;
        }
        const auto quarter = [&](const PlacedBox& box) {
            return std::min(static_cast<std::size_t>(4 * std::abs(glm::dot(direction, box.axis[0]))), std::size_t{3});
        };
        const int size = std::clamp(std::ilogb(na.radius + nb.radius) + 4, 0, 11);
        Tried& alike = tried[(static_cast<std::size_t>(size) * 4 + quarter(a)) * 4 + quarter(b)];
        if (alike.times >= 32 && 4 * alike.settled < alike.times) {
            return;
        }
        sharpen(work, direction, a, b);
        ++alike.times;
        alike.settled += work.from == work.to ? 1 : 0;
    }

    /// Trims further by how far the two bodies' corners, rather than their boxes, reach along a direction: first along the
    /// boxes', then along that of the nearest points of what was seen of the two hulls, step by step (the method of Frank
    /// and Wolfe, Naval Research Logistics Quarterly 3, 1956, on the difference of the hulls). Whatever the direction, the
    /// bound is true.
    void sharpen(Work& work, Vec3 direction, const PlacedBox& a, const PlacedBox& b) {
        const Work whole = work;
        const TravelCell& head = cells_[whole.from];
        const TravelCell& tail = cells_[whole.to - 1];
        const double middle = whole.to - whole.from == 1 ? 0.5 * (head.rise_from + head.rise_to)
                                                         : cells_[(whole.from + whole.to) / 2].rise_from;
        const TravelCell& at_middle = cells_[(whole.from + whole.to) / 2];
        const double wanted = std::min(at_middle.wanted.at_from, at_middle.wanted.at_to);
        Vec3 nearest{0.0};
        for (int step = 0; step < kSharpenings; ++step) {
            const Vec3 back = -direction;
            const Reach of_a = reach_below(pair_.first_mesh, pair_.first, work.a, direction * motion_.first.turn,
                                           -1e300, kNodesToSharpen);
            const Reach of_b = reach_below(pair_.second_mesh, pair_.second, work.b, back * motion_.second.turn, -1e300,
                                           kNodesToSharpen);
            const double along = glm::dot(direction, motion_.up);
            const double apart =
                glm::dot(direction, shift_second_ - shift_first_) - of_a.bound - of_b.bound - 2 * motion_.rounding_mm;
            Line line{apart + along * head.rise_from, apart + along * tail.rise_to};
            if (triangles_.tilts()) {
                add_tilt(line, direction, a, b, head, tail);
            }
            trim(cells_, line, whole.from, whole.to, work.from, work.to);
            if (work.from == work.to || !of_a.corner_known || !of_b.corner_known) {
                return;
            }
            const Vec3 corner = motion_.second.turn * of_b.corner_mm + shift_second_ + middle * motion_.up -
                                motion_.first.turn * of_a.corner_mm - shift_first_;
            if (step == 0) {
                nearest = corner;
            } else {
                const Vec3 towards = nearest - corner;
                const double square = glm::dot(towards, towards);
                const double share = square > 0 ? glm::dot(nearest, towards) / square : 0;
                if (share <= 1e-3) {
                    return; // as near as the hulls come
                }
                nearest -= std::min(share, 1.0) * towards;
            }
            const double size = glm::length(nearest);
            if (size <= wanted || size == 0) {
                return; // the hulls themselves are nearer than is wanted
            }
            direction = nearest / size;
        }
    }

    static PlacedBox placed_as_is(const BoxNode& node, const Vec3& shift) {
        PlacedBox box;
        box.centre = Vec3{node.centre[0], node.centre[1], node.centre[2]} + shift;
        box.axis[0] = {node.normal[0], node.normal[1], node.normal[2]};
        box.axis[1] = {node.along[0], node.along[1], node.along[2]};
        box.axis[2] = glm::cross(box.axis[0], box.axis[1]);
        box.half[0] = node.half[0];
        box.half[1] = node.half[1];
        box.half[2] = node.half[2];
        box.sum_of_halves = box.half[0] + box.half[1] + box.half[2];
        return box;
    }

    // Of triangles --------------------------------------------------------------------------------------------------

    void leaf_pair(const Work& work, const BoxNode& na, const BoxNode& nb) {
        std::array<Triangle, Hierarchy::kLeafTriangles> of_first;
        std::array<Triangle, Hierarchy::kLeafTriangles> of_second;
        for (std::uint32_t i = 0; i < na.count; ++i) {
            of_first[i] = triangles_.of_first(pair_.first.triangle(na.first + i));
        }
        for (std::uint32_t j = 0; j < nb.count; ++j) {
            of_second[j] = triangles_.of_second(pair_.second.triangle(nb.first + j));
        }
        const float share = work.share / static_cast<float>(na.count * nb.count);
        for (std::uint32_t i = 0; i < na.count; ++i) {
            for (std::uint32_t j = 0; j < nb.count; ++j) {
                over_cells({(na.first + i) | kPlace, (nb.first + j) | kPlace, work.from, work.to, share}, of_first[i],
                           of_second[j]);
            }
        }
    }

    void triangle_pair(const Work& work) {
        over_cells(work, triangles_.of_first(pair_.first.triangle(work.a & ~kPlace)),
                   triangles_.of_second(pair_.second.triangle(work.b & ~kPlace)));
    }

    void over_cells(const Work& work, const Triangle& a, const Triangle& b) {
        const std::uint32_t i = pair_.first.triangle(work.a & ~kPlace);
        const std::uint32_t j = pair_.second.triangle(work.b & ~kPlace);
        struct Range {
            std::uint32_t from, to;
        };
        std::array<Range, 64> open; // halving 2^32 cells needs no more
        std::size_t count = 0;
        open[count++] = {work.from, work.to};
        // The faces' own directions cost little and settle most pairs.
        {
            Range& whole = open[0];
            const Vec3 faces[2] = {glm::cross(a[1] - a[0], a[2] - a[0]), glm::cross(b[1] - b[0], b[2] - b[0])};
            const TravelCell& middle = cells_[(whole.from + whole.to) / 2];
            for (const Vec3& face : faces) {
                const double size = glm::length(face);
                if (size > 0 && whole.from < whole.to) {
                    const Vec3 towards = b[0] + middle.rise_from * motion_.up - a[0];
                    const Vec3 direction = face * ((glm::dot(face, towards) < 0 ? -1 : 1) / size);
                    trim(cells_, triangles_.lower(direction, a, b, cells_[whole.from], cells_[whole.to - 1]),
                         whole.from, whole.to);
                }
            }
        }
        bool all = true;
        while (count > 0) {
            Range range = open[--count];
            if (range.from == range.to) {
                continue;
            }
            if (range.to - range.from == 1) {
                if (cells_[range.from].in_contact()) {
                    continue;
                }
                if (states_[range.from].unsettled || !settle(range.from, i, a, j, b)) {
                    states_[range.from].unsettled = true;
                    put_off.push_back(
                        {work.a, work.b, range.from, range.to, work.share / static_cast<float>(work.to - work.from)});
                    all = false;
                }
                continue;
            }
            const std::uint32_t middle = (range.from + range.to) / 2;
            ++counts.triangles;
            const auto measured = triangles_.measure(i, a, j, b, cells_[middle].from, cells_[middle].rise_from);
            offer(measured, middle, true);
            if (measured.nearest.direction != Vec3{0.0}) {
                trim(cells_,
                     triangles_.lower(measured.nearest.direction, a, b, cells_[range.from], cells_[range.to - 1]),
                     range.from, range.to);
            }
            if (range.from >= middle || range.to <= middle) {
                open[count++] = range;
            } else {
                open[count++] = {middle, range.to};
                open[count++] = {range.from, middle};
            }
        }
        if (all) {
            settled += work.share;
        }
    }

    /// Hands a measured pair's chord to its cell if it looks better than what the cell has.
    void offer(TriangleBounds::Measured measured, std::uint32_t cell, bool at_from) {
        const double there = at_from ? cells_[cell].upper.at_from : cells_[cell].upper.at_to;
        if (measured.nearest.distance < there) {
            const Line chord = triangles_.upper(measured, cells_[cell], at_from);
            improve(cells_[cell], chord, measured.witness, goal_, 0.02 * goal_.slack_mm);
        }
    }

    /// One pair in one cell. False: the cell must be cut to settle it.
    bool settle(std::uint32_t index, std::uint32_t i, const Triangle& a, std::uint32_t j, const Triangle& b) {
        TravelCell& cell = cells_[index];
        counts.triangles += 2;
        const auto before = triangles_.measure(i, a, j, b, cell.from, cell.rise_from);
        offer(before, index, true);
        std::array<Line, 3> lines;
        int count = 0;
        const auto bound = [&](const NearestPoints& nearest) {
            if (nearest.direction != Vec3{0.0}) {
                lines[static_cast<std::size_t>(count++)] = triangles_.lower(nearest.direction, a, b, cell, cell);
            }
            return count > 0 && reach(lines.data(), count, cell.wanted);
        };
        if (bound(before.nearest)) {
            return true;
        }
        const auto after = triangles_.measure(i, a, j, b, cell.to, cell.rise_to);
        offer(after, index, false);
        if (cell.in_contact() || bound(after.nearest)) {
            return true;
        }
        const Travel half{0.5 * (cell.from.mm + cell.to.mm)};
        ++counts.triangles;
        const auto middle = triangles_.measure(i, a, j, b, half, 0.5 * (cell.rise_from + cell.rise_to));
        if (bound(middle.nearest)) {
            return true;
        }
        slope_parts_ = 0;
        if (triangles_.tilts() && settle_by_slopes(cell, i, j, motion_.first.shares, motion_.second.shares, 0)) {
            return true;
        }
        if (cell.in_contact()) {
            return true;
        }
        if (slope_parts_ > kMostSlopeParts) { // cutting the travel would not help: the slopes are in the way
            give_up_in(cell, lines.data(), count);
            counts.budget_spent = true;
            return true;
        }
        const double least_width = cell.wanted.at_from < goal_.slack_mm || cell.wanted.at_to < goal_.slack_mm
                                       ? goal_.least_width_mm
                                       : kLeastCut_mm;
        if (cell.width_mm() <= least_width) {
            give_up_in(cell, lines.data(), count);
            return true;
        }
        Cut cut{Cut::Kind::middle, half.mm};
        if (!triangles_.tilts()) {
            const bool touch_before = before.nearest.distance <= kTouch_mm;
            const bool touch_after = after.nearest.distance <= kTouch_mm;
            const bool touch_middle = middle.nearest.distance <= kTouch_mm;
            if (!touch_before && (touch_after || touch_middle)) {
                cut = contact_from(cell, i, a, j, b, true);
            } else if (touch_before && !touch_after) {
                cut = contact_from(cell, i, a, j, b, false);
            }
        }
        states_[index].cut.take(cut);
        return false;
    }

    /// Where contact starts (or, from the far end, where it ends): from a clear travel along the tangent to where it
    /// meets nothing, again and again. By convexity it never goes past.
    Cut contact_from(const TravelCell& cell, std::uint32_t i, const Triangle& a, std::uint32_t j, const Triangle& b,
                     bool start) const {
        const double length = cell.rise_to - cell.rise_from;
        double share = start ? 0 : 1;
        for (int step = 0; step < 20; ++step) {
            const double rise = cell.rise_from + share * length;
            const auto seen = triangles_.measure(i, a, j, b, {cell.from.mm + share * cell.width_mm()}, rise);
            const double approach = glm::dot(seen.nearest.direction, motion_.up) * length * (start ? -1 : 1);
            if (seen.nearest.distance <= kTouch_mm || approach <= 0) {
                break;
            }
            share += (start ? 1 : -1) * seen.nearest.distance / approach;
            if (share <= 0 || share >= 1) {
                break;
            }
        }
        const double margin = kLeastCut_mm / cell.width_mm();
        if (!(share > margin && share < 1 - margin)) {
            return {Cut::Kind::middle, cell.from.mm + 0.5 * cell.width_mm()};
        }
        return {start ? Cut::Kind::start_of_contact : Cut::Kind::end_of_contact,
                cell.from.mm + share * cell.width_mm()};
    }

    static void give_up_in(TravelCell& cell, const Line* lines, int count) {
        double lower = 0;
        for (int k = 0; k < count; ++k) {
            lower = std::max(lower, std::min(lines[k].at_from, lines[k].at_to));
        }
        cell.given_up_mm = std::min(cell.given_up_mm, lower);
    }

    /// The middle of the part of the envelope that a body stands for.
    static Slope middle_of(const BodyInFrame& body, Travel at) {
        const SlopeRange off = body.off_reference(at);
        return {body.reference.x + off.middle().x, body.reference.y + off.middle().y};
    }

    /// Parts the slope box until each part settles the pair in this cell, or the slopes are no longer what is in the way.
    bool settle_by_slopes(TravelCell& cell, std::uint32_t i, std::uint32_t j, const ShareRange& of_first,
                          const ShareRange& of_second, int depth) {
        if (++slope_parts_ > kMostSlopeParts) {
            return false;
        }
        const RelativeMotion part = motion_.within(of_first, of_second);
        const TriangleBounds bounds(pair_.first_mesh, pair_.second_mesh, part);
        std::vector<TravelCell> own{cell};
        fit_to(own, part);
        const Triangle a = bounds.of_first(i);
        const Triangle b = bounds.of_second(j);
        std::array<Line, 4> lines;
        int count = 0;
        double loss = 0;
        for (const bool at_from : {true, false}) {
            const Travel at = at_from ? cell.from : cell.to;
            // At the middle of the slopes as well as at their corners: the nearest may be between.
            const Witness middle{i, j, middle_of(part.first, at), middle_of(part.second, at)};
            TriangleBounds::Measured seen[2] = {
                {bounds.measure_on(middle, at), middle},
                bounds.measure(i, a, j, b, at, at_from ? own[0].rise_from : own[0].rise_to)};
            for (auto& measured : seen) {
                ++counts.triangles;
                if (measured.nearest.distance < (at_from ? cell.upper.at_from : cell.upper.at_to)) {
                    TriangleBounds::Measured offered = measured;
                    const Line chord = bounds.upper(offered, own[0], at_from);
                    improve(cell, chord, offered.witness, goal_, 0.02 * goal_.slack_mm);
                    own[0].upper = cell.upper;
                }
                if (measured.nearest.direction != Vec3{0.0}) {
                    const Line line = bounds.lower(measured.nearest.direction, a, b, own[0], own[0]);
                    lines[static_cast<std::size_t>(count++)] = line;
                    loss = std::max(loss, measured.nearest.distance - (at_from ? line.at_from : line.at_to));
                } else {
                    loss = 1e300;
                }
                if (cell.in_contact() || (count > 0 && reach(lines.data(), count, cell.wanted))) {
                    return true;
                }
            }
        }
        const double ride = std::abs(cell.rise_to - cell.rise_from);
        if (depth >= 24 || loss <= 0.25 * std::min(goal_.slack_mm, std::max(ride, 1e-4))) {
            return false;
        }
        // The part whose travel moves the pair the most is halved.
        const auto spread = [&](const BodyInFrame& body, const SlopeRange& off, const Triangle& t, bool in_x) {
            if (!body.tilts) {
                return 0.0;
            }
            double most = 0;
            for (const Vec3& corner : t) {
                const Vec3 moved = (in_x ? body.per_x : body.per_y) * (corner - body.pivot_mm);
                most = std::max(most, glm::length(moved));
            }
            return most * (in_x ? off.high.x - off.low.x : off.high.y - off.low.y);
        };
        const std::array<double, 4> spreads{
            spread(part.first, own[0].first_from, a, true), spread(part.first, own[0].first_from, a, false),
            spread(part.second, own[0].second_from, b, true), spread(part.second, own[0].second_from, b, false)};
        const auto widest =
            static_cast<std::size_t>(std::max_element(spreads.begin(), spreads.end()) - spreads.begin());
        if (spreads[widest] <= 0) {
            return false;
        }
        for (const bool upper_half : {false, true}) {
            ShareRange first = of_first;
            ShareRange second = of_second;
            ShareRange& halved = widest < 2 ? first : second;
            const bool in_x = widest % 2 == 0;
            double& low = in_x ? halved.low.x : halved.low.y;
            double& high = in_x ? halved.high.x : halved.high.y;
            (upper_half ? low : high) = 0.5 * (low + high);
            if (!settle_by_slopes(cell, i, j, first, second, depth + 1)) {
                return false;
            }
        }
        return true;
    }

    const SearchedPair& pair_;
    const RelativeMotion& motion_;
    const Goal& goal_;
    TriangleBounds triangles_;
    std::vector<TravelCell>& cells_;
    std::vector<CellState>& states_;
    Vec3 shift_first_, shift_second_;
    bool first_as_is_;
    int slope_parts_ = 0; // looked at for the pair and cell in hand
};

/// A task's copy of the cells from `first` on, merged in order of tasks.
void merge(std::vector<TravelCell>& cells, std::vector<CellState>& states, std::size_t first,
           const std::vector<TravelCell>& own, const std::vector<CellState>& own_states) {
    for (std::size_t i = first; i < first + own.size(); ++i) {
        TravelCell& cell = cells[i];
        const TravelCell& seen = own[i - first];
        cell.wanted.at_from = std::min(cell.wanted.at_from, seen.wanted.at_from);
        cell.wanted.at_to = std::min(cell.wanted.at_to, seen.wanted.at_to);
        cell.given_up_mm = std::min(cell.given_up_mm, seen.given_up_mm);
        if (seen.in_contact() ? !cell.in_contact()
                              : seen.upper.at_from + seen.upper.at_to < cell.upper.at_from + cell.upper.at_to) {
            cell.upper = seen.upper;
            cell.witness = seen.witness;
        }
        states[i].unsettled = states[i].unsettled || own_states[i - first].unsettled;
        states[i].cut.take(own_states[i - first].cut);
    }
}

/// Counts the cells of some work from elsewhere.
void move(std::vector<Work>& list, std::int64_t by) {
    for (Work& work : list) {
        work.from = static_cast<std::uint32_t>(work.from + by);
        work.to = static_cast<std::uint32_t>(work.to + by);
    }
}

/// Cuts every unsettled cell in two; `moved[i]` is where old cell i starts now.
void cut_cells(std::vector<TravelCell>& cells, const std::vector<CellState>& states, const TriangleBounds& triangles,
               const RelativeMotion& motion, const Goal& goal, std::vector<std::uint32_t>& moved,
               SearchCounts& counts) {
    std::vector<TravelCell> cut;
    cut.reserve(2 * cells.size());
    moved.assign(cells.size() + 1, 0);
    for (std::size_t i = 0; i < cells.size(); ++i) {
        moved[i] = static_cast<std::uint32_t>(cut.size());
        TravelCell cell = cells[i];
        if (!states[i].unsettled || cell.in_contact()) {
            cut.push_back(cell);
            continue;
        }
        ++counts.cuts;
        double at = states[i].cut.kind == Cut::Kind::none ? 0.5 * (cell.from.mm + cell.to.mm) : states[i].cut.at_mm;
        const double share = (at - cell.from.mm) / cell.width_mm();
        TravelCell before = cell;
        TravelCell after = cell;
        before.to = after.from = {at};
        before.upper.at_to = after.upper.at_from = cell.upper.at(share);
        before.wanted.at_to = after.wanted.at_from = cell.wanted.at(share);
        if (std::isfinite(cell.upper.at_from) &&
            motion.bend_mm(cell.from, cell.to, cell.witness.slope_first, cell.witness.slope_second) == 0) {
            double seen = triangles.measure_on(cell.witness, {at}).distance;
            seen = seen <= kTouch_mm ? 0 : seen;
            before.upper.at_to = after.upper.at_from = std::min(before.upper.at_to, seen);
        }
        lower_wanted(before, goal);
        lower_wanted(after, goal);
        cut.push_back(before);
        cut.push_back(after);
    }
    moved[cells.size()] = static_cast<std::uint32_t>(cut.size());
    cells.swap(cut);
    fit_to(cells, motion);
}

} // namespace

bool search_pair(const SearchedPair& pair, const RelativeMotion& motion, const Goal& goal, std::size_t budget,
                 std::vector<TravelCell>& cells, std::uint32_t from_cell, std::uint32_t to_cell, SearchCounts& counts,
                 const ProgressShare& told) {
    std::vector<Work> list{{Hierarchy::kRoot, Hierarchy::kRoot, from_cell, to_cell, 1.0F}};
    std::vector<Work> put_off;
    std::vector<CellState> states(cells.size());
    const TriangleBounds triangles(pair.first_mesh, pair.second_mesh, motion);
    double settled = 0;
    std::size_t spent = 0;
    TriedByLikeness tried{};
    const auto give_up_rest = [&] {
        Task task(pair, motion, goal, cells, states);
        for (const std::vector<Work>* left : {&list, &put_off}) {
            for (const Work& work : *left) {
                task.give_up(work);
            }
        }
        counts.budget_spent = true;
        return true;
    };
    while (!list.empty() || !put_off.empty()) {
        if (list.empty()) {
            if (cells.size() >= kMostCells) {
                return give_up_rest();
            }
            std::vector<std::uint32_t> moved;
            cut_cells(cells, states, triangles, motion, goal, moved, counts);
            for (Work& work : put_off) {
                work = {work.a, work.b, moved[work.from], moved[work.to], work.share};
            }
            list.swap(put_off);
            put_off.clear();
            states.assign(cells.size(), {});
        }
        if (told.progress != nullptr && told.progress->cancelled()) {
            return false;
        }
        ++counts.rounds;
        const std::size_t taken = std::min(list.size(), kTasksInRound * kItemsInTask);
        const std::size_t per_task = std::max<std::size_t>(1, (taken + kTasksInRound - 1) / kTasksInRound);
        const std::size_t tasks = (taken + per_task - 1) / per_task;
        struct Own {
            std::vector<Work> stack, put_off;
            std::uint32_t first_cell = 0; // the cells that its work can touch, and no more, are copied
            std::vector<TravelCell> cells;
            std::vector<CellState> states;
            SearchCounts counts;
            double settled = 0;
            TriedByLikeness tried{};
        };
        std::vector<Own> own(tasks);
        const std::size_t start = list.size() - taken;
        const std::size_t quota = tasks < 16 ? kFirstQuota : kQuota;
        tbb::parallel_for(std::size_t{0}, tasks, [&](std::size_t t) {
            Own& mine = own[t];
            if (told.progress != nullptr && told.progress->cancelled()) {
                return;
            }
            const std::size_t from = start + t * per_task;
            mine.stack.assign(list.begin() + static_cast<std::ptrdiff_t>(from),
                              list.begin() + static_cast<std::ptrdiff_t>(std::min(from + per_task, list.size())));
            std::uint32_t last = 0;
            mine.first_cell = static_cast<std::uint32_t>(cells.size());
            for (const Work& work : mine.stack) {
                mine.first_cell = std::min(mine.first_cell, work.from);
                last = std::max(last, work.to);
            }
            move(mine.stack, -static_cast<std::int64_t>(mine.first_cell));
            mine.cells.assign(cells.begin() + mine.first_cell, cells.begin() + last);
            mine.states.assign(states.begin() + mine.first_cell, states.begin() + last);
            Task task(pair, motion, goal, mine.cells, mine.states);
            task.tried = tried;
            task.run(mine.stack, quota);
            mine.tried = task.tried;
            mine.put_off.swap(task.put_off);
            move(mine.stack, mine.first_cell);
            move(mine.put_off, mine.first_cell);
            mine.counts = task.counts;
            mine.settled = task.settled;
        });
        if (told.progress != nullptr && told.progress->cancelled()) {
            return false;
        }
        list.resize(start);
        const TriedByLikeness tried_before = tried;
        for (Own& mine : own) {
            for (std::size_t i = 0; i < tried.size(); ++i) {
                tried[i].times += mine.tried[i].times - tried_before[i].times;
                tried[i].settled += mine.tried[i].settled - tried_before[i].settled;
            }
            merge(cells, states, mine.first_cell, mine.cells, mine.states);
            list.insert(list.end(), mine.stack.begin(), mine.stack.end());
            put_off.insert(put_off.end(), mine.put_off.begin(), mine.put_off.end());
            counts.boxes += mine.counts.boxes;
            counts.triangles += mine.counts.triangles;
            counts.budget_spent = counts.budget_spent || mine.counts.budget_spent;
            spent += mine.counts.boxes + mine.counts.triangles;
            settled += mine.settled;
        }
        if (told.progress != nullptr) {
            told.progress->tell(told.from + (told.to - told.from) * std::min(1.0, settled));
        }
        if (spent > budget) {
            return give_up_rest();
        }
    }
    return true;
}

} // namespace evenclose
