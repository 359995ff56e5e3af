#include "checks/clearance/pair_search.hpp"

#include "checks/clearance/box_bound.hpp"
#include "checks/clearance/piercing.hpp"
#include "checks/clearance/support.hpp"
#include "checks/clearance/triangle_search.hpp"

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
/// How often sharpening was tried for pairs that are alike, and settled them.
struct Tried {
    std::uint32_t times = 0, settled = 0;
};
using TriedByLikeness = std::array<Tried, 12 * 4 * 4>;

class Task {
public:
    Task(const SearchedPair& pair, const RelativeMotion& motion, const Goal& goal, std::vector<TravelCell>& cells,
         std::vector<CellState>& states)
        : pair_(pair), motion_(motion), cells_(cells), states_(states),
          shift_first_(motion.first.turn * pair.first.origin() + motion.first.shift_mm),
          shift_second_(motion.second.turn * pair.second.origin() + motion.second.shift_mm),
          first_as_is_(motion.first.turn == Mat3{1.0}), second_as_is_(motion.second.turn == Mat3{1.0}),
          triangles_(pair, motion, goal, cells, states, tally) {}

    void run(std::vector<Work>& stack, std::size_t quota) {
        while (!stack.empty() && tally.counts.boxes + tally.counts.triangles < quota) {
            const Work work = stack.back();
            stack.pop_back();
            if ((work.a & kPlace) != 0) {
                triangles_.triangle_pair(work);
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

    TaskTally tally;
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
        const PlacedBox b =
            second_as_is_ ? placed_as_is(nb, shift_second_) : placed(nb, motion_.second.turn, shift_second_);
        for (int again = 0; again < 3; ++again) {
            const std::uint32_t width = work.to - work.from;
            ++tally.counts.boxes;
            Vec3 direction;
            const Line line = box_line(a, b, work.from, work.to, &direction);
            trim(cells_, line, work.from, work.to);
            if (work.from != work.to) {
                sharpen_if_worth_it(work, direction, a, b, na, nb);
            }
            if (work.from == work.to) {
                tally.settled += work.share;
                return;
            }
            if (2 * (work.to - work.from) > width) {
                break;
            }
        }
        if (all_unsettled(work.from, work.to)) {
            tally.put_off.push_back(work);
            return;
        }
        const double ride = std::abs(cells_[work.to - 1].rise_to - cells_[work.from].rise_from);
        if (work.to - work.from > 1 && ride > na.radius + nb.radius) {
            const std::uint32_t middle = (work.from + work.to) / 2;
            stack.push_back({work.a, work.b, middle, work.to, 0.5F * work.share});
            stack.push_back({work.a, work.b, work.from, middle, 0.5F * work.share});
        } else if (na.leaf() && nb.leaf()) {
            triangles_.leaf_pair(work, na, nb);
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
        if (alike.times >= 32 && 2 * alike.settled < alike.times) {
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

    const SearchedPair& pair_;
    const RelativeMotion& motion_;
    std::vector<TravelCell>& cells_;
    std::vector<CellState>& states_;
    Vec3 shift_first_, shift_second_;
    bool first_as_is_, second_as_is_; // their turn is none
    TriangleSearch triangles_;
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
            mine.put_off.swap(task.tally.put_off);
            move(mine.stack, mine.first_cell);
            move(mine.put_off, mine.first_cell);
            mine.counts = task.tally.counts;
            mine.settled = task.tally.settled;
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
