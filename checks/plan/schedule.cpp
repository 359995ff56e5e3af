#include "checks/plan/schedule.hpp"

#include <algorithm>
#include <cassert>
#include <limits>
#include <map>
#include <utility>

namespace evenclose {
namespace {

// Weeks of shorter pressings would be a list without end; nobody presses so fast.
constexpr Seconds kShortest_s = 60;
constexpr Seconds kNever = std::numeric_limits<Seconds>::max() / 4;

class Calendar {
public:
    explicit Calendar(const ShopPlan& shop) : shop_(shop) {}

    [[nodiscard]] Seconds day_length() const { return shop_.day_ends - shop_.day_begins; }
    /// Earliest at or after `t` at which work of that length can be done in one day. Needs: length <= day_length().
    [[nodiscard]] Seconds fits_from(Seconds t, Seconds length) const {
        for (Seconds day = t / kDay_s;; ++day) {
            if (day % 7 >= shop_.days_a_week) {
                continue;
            }
            const Seconds from = std::max(t, day * kDay_s + shop_.day_begins);
            if (from + length <= day * kDay_s + shop_.day_ends) {
                return from;
            }
        }
    }
    [[nodiscard]] Seconds end_of_day(Seconds t) const { return t / kDay_s * kDay_s + shop_.day_ends; }
    /// Working time between the two.
    [[nodiscard]] Seconds worked(Seconds from, Seconds to) const {
        Seconds sum = 0;
        for (Seconds day = from / kDay_s; day * kDay_s < to; ++day) {
            if (day % 7 < shop_.days_a_week) {
                const Seconds begins = std::max(from, day * kDay_s + shop_.day_begins);
                sum += std::max<Seconds>(0, std::min(to, day * kDay_s + shop_.day_ends) - begins);
            }
        }
        return sum;
    }

private:
    const ShopPlan& shop_;
};

struct PressState {
    bool closed = false;
    Seconds opens = 0; // if closed: when the press time is over; else when the last mold was out
    int pressing = -1; // that is in it
};

/// Everything that can be busy, each with the time it is free from.
struct Shop {
    std::vector<Seconds> people, molds, racks;
    std::vector<PressState> presses;
};

/// What a step would do to the shop, and when it would begin.
struct Step {
    Seconds begins = kNever;
    Shop after;
    std::vector<Task> tasks;
    int pressings = 0;
};

class Simulation {
public:
    explicit Simulation(const ShopPlan& shop) : plan_(shop), calendar_(shop) {}
    Schedule run();

private:
    [[nodiscard]] std::string impossible() const;
    [[nodiscard]] Step next_step() const;
    [[nodiscard]] Step start(int press) const;      // an empty press: lay up, load, close
    [[nodiscard]] Step open(int press) const;       // a closed one: molds out
    [[nodiscard]] Step turn(int press) const;       // molds out, and the next ones in behind them
    [[nodiscard]] Step turn_ahead(int press) const; // the next ones laid up before it opens
    void take_out(Step& step, int press) const;
    bool fill(Step& step, int press, Seconds not_before, bool laid_up) const;
    Seconds lay_up(Step& step, int press, Seconds not_before) const;
    [[nodiscard]] std::size_t share(int press) const { return shares_[static_cast<std::size_t>(press)]; }
    /// When the pressure comes on. Needs: a step that closes the press.
    [[nodiscard]] Seconds pressed_from(const Step& step, int press) const {
        return step.after.presses[static_cast<std::size_t>(press)].opens - plan_.press;
    }
    [[nodiscard]] std::vector<Seconds> state_at(Seconds monday) const;
    void sum_up(Schedule& schedule, int from_week, int weeks) const;

    const ShopPlan& plan_;
    Calendar calendar_;
    std::vector<std::size_t> shares_; // molds in each press
    Shop shop_;
    int pressings_ = 0;
};

std::size_t first_free(const std::vector<Seconds>& free) {
    return static_cast<std::size_t>(std::min_element(free.begin(), free.end()) - free.begin());
}

std::string Simulation::impossible() const {
    Seconds longest = plan_.close;
    for (const MoldWork& work : plan_.openings) {
        longest = std::max({longest, work.lay_up, work.load, work.unload});
    }
    if (longest > calendar_.day_length()) {
        return "a single task takes longer than a working day";
    }
    Seconds all = plan_.close + plan_.press;
    for (const MoldWork& work : plan_.openings) {
        all += work.lay_up + work.load + work.unload;
    }
    if (all < kShortest_s) {
        return "a pressing takes less than a minute: are the times right?";
    }
    if (start(0).begins == kNever) {
        return "laying up and loading all openings of a press takes longer than a working day";
    }
    int most = 0;
    for (std::size_t i = 0; i < share(0); ++i) {
        most = std::max(most, plan_.openings[i].decks);
    }
    if (plan_.racks && plan_.cure > 0 && *plan_.racks < most) {
        return "there are fewer racks than decks in one mold";
    }
    return "";
}

/// Takes the molds out, each by whoever is free first, and puts the decks on racks.
void Simulation::take_out(Step& step, int press) const {
    Shop& shop = step.after;
    PressState& state = shop.presses[static_cast<std::size_t>(press)];
    Seconds last = 0;
    for (std::size_t i = 0; i < share(press); ++i) {
        const MoldWork& work = plan_.openings[i];
        const std::size_t person = first_free(shop.people);
        Seconds ready = std::max(state.opens, shop.people[person]);
        if (plan_.racks && plan_.cure > 0) {
            std::vector<Seconds> sorted = shop.racks;
            std::sort(sorted.begin(), sorted.end());
            // The decks are put down at the end.
            ready = std::max(ready, sorted[static_cast<std::size_t>(work.decks) - 1] - work.unload);
        }
        const Seconds from = calendar_.fits_from(ready, work.unload);
        const Seconds to = from + work.unload;
        step.begins = std::min(step.begins, from);
        step.tasks.push_back({TaskKind::unload, press, static_cast<int>(i), static_cast<int>(person), state.pressing,
                              work.decks, from, to});
        shop.people[person] = to;
        *std::find(shop.molds.begin(), shop.molds.end(), kNever) = to;
        if (plan_.cure > 0) {
            step.tasks.push_back(
                {TaskKind::cure, press, static_cast<int>(i), -1, state.pressing, work.decks, to, to + plan_.cure});
            for (int deck = 0; plan_.racks && deck < work.decks; ++deck) {
                shop.racks[first_free(shop.racks)] = to + plan_.cure;
            }
        }
        last = std::max(last, to);
    }
    state = {false, last, -1};
}

/// Lays up every mold of a press at the bench; the molds are taken from those that are free. Gives when the last is done,
/// kNever if there are too few molds.
Seconds Simulation::lay_up(Step& step, int press, Seconds not_before) const {
    Shop& shop = step.after;
    Seconds last = 0;
    for (std::size_t i = 0; i < share(press); ++i) {
        const MoldWork& work = plan_.openings[i];
        const std::size_t mold = first_free(shop.molds);
        if (shop.molds[mold] >= kNever) {
            return kNever;
        }
        const std::size_t person = first_free(shop.people);
        const Seconds ready = std::max({not_before, shop.molds[mold], shop.people[person]});
        const Seconds from = calendar_.fits_from(ready, work.lay_up);
        step.begins = std::min(step.begins, from);
        step.tasks.push_back({TaskKind::lay_up, press, static_cast<int>(i), static_cast<int>(person), step.pressings,
                              work.decks, from, from + work.lay_up});
        shop.people[person] = from + work.lay_up;
        shop.molds[mold] = kNever;
        last = std::max(last, from + work.lay_up);
    }
    return last;
}

/// Brings the molds in, laying each up first if that was not done, and closes. False if the day does not allow it.
bool Simulation::fill(Step& step, int press, Seconds not_before, bool laid_up) const {
    Shop& shop = step.after;
    PressState& state = shop.presses[static_cast<std::size_t>(press)];
    Seconds last = 0;
    Seconds first = kNever;
    std::size_t closer = 0;
    for (std::size_t i = 0; i < share(press); ++i) {
        const MoldWork& work = plan_.openings[i];
        const std::size_t person = first_free(shop.people);
        Seconds ready = std::max(not_before, shop.people[person]);
        if (laid_up) {
            ready = std::max(ready, state.opens);
        } else {
            const std::size_t mold = first_free(shop.molds);
            if (shop.molds[mold] >= kNever) {
                return false;
            }
            ready = std::max(ready, shop.molds[mold]);
            // What is laid up must be carried in the same day, and not before the press is empty.
            ready = std::max(ready, state.opens - work.lay_up);
            const Seconds from = calendar_.fits_from(ready, work.lay_up + work.load);
            step.tasks.push_back({TaskKind::lay_up, press, static_cast<int>(i), static_cast<int>(person),
                                  step.pressings, work.decks, from, from + work.lay_up});
            shop.molds[mold] = kNever;
            step.begins = std::min(step.begins, from);
            first = std::min(first, from);
            ready = from + work.lay_up;
        }
        const Seconds from = calendar_.fits_from(ready, work.load);
        first = std::min(first, from);
        step.tasks.push_back({TaskKind::load, press, static_cast<int>(i), static_cast<int>(person), step.pressings,
                              work.decks, from, from + work.load});
        shop.people[person] = from + work.load;
        if (from + work.load >= last) {
            last = from + work.load;
            closer = person;
        }
    }
    const Seconds on = last + plan_.close;
    if (calendar_.end_of_day(first) < on) {
        return false; // it would have to wait over night
    }
    step.tasks.push_back({TaskKind::close, press, -1, static_cast<int>(closer), step.pressings, 0, last, on});
    shop.people[closer] = on;
    step.tasks.push_back({TaskKind::press, press, -1, -1, step.pressings, 0, on, on + plan_.press});
    state = {true, on + plan_.press, step.pressings};
    ++step.pressings;
    return true;
}

Step Simulation::start(int press) const {
    const PressState& state = shop_.presses[static_cast<std::size_t>(press)];
    // Now, or if the day is too far gone, the next morning that there is.
    Seconds not_before = std::max<Seconds>(0, state.opens);
    for (int tries = 0; tries < 9; ++tries) {
        Step step;
        step.after = shop_;
        step.pressings = pressings_;
        if (fill(step, press, not_before, false)) {
            return step;
        }
        if (step.begins == kNever) {
            break; // no molds
        }
        not_before = step.begins / kDay_s * kDay_s + kDay_s;
    }
    return {};
}

Step Simulation::open(int press) const {
    Step step;
    step.after = shop_;
    step.pressings = pressings_;
    take_out(step, press);
    return step;
}

Step Simulation::turn(int press) const {
    const Step out = open(press);
    Step both = out;
    // Only if it is closed again the same day; else the molds come out, and the next ones go in some other day.
    return fill(both, press, 0, false) && pressed_from(both, press) <= calendar_.end_of_day(out.begins) ? both : out;
}

Step Simulation::turn_ahead(int press) const {
    const PressState& state = shop_.presses[static_cast<std::size_t>(press)];
    Step trial;
    trial.after = shop_;
    trial.pressings = pressings_;
    // How long the bench takes, everybody at it.
    std::fill(trial.after.people.begin(), trial.after.people.end(), 0);
    std::fill(trial.after.molds.begin(), trial.after.molds.end(), 0);
    const Seconds morning = calendar_.fits_from(0, 0);
    const Seconds bench = lay_up(trial, press, morning) - morning;

    Step step;
    step.after = shop_;
    step.pressings = pressings_;
    const Seconds done = lay_up(step, press, std::max<Seconds>(0, state.opens - bench));
    if (done >= kNever || calendar_.end_of_day(step.begins) < done) {
        return {};
    }
    const Seconds today = calendar_.end_of_day(step.begins);
    take_out(step, press);
    if (!fill(step, press, 0, true) || pressed_from(step, press) > today) {
        return {};
    }
    const Seconds on = pressed_from(step, press);
    for (const Task& task : step.tasks) {
        if (task.kind == TaskKind::lay_up && plan_.closed_limit && on - task.to > *plan_.closed_limit) {
            return {};
        }
    }
    return step;
}

Step Simulation::next_step() const {
    Step best;
    for (int press = 0; press < plan_.presses; ++press) {
        if (share(press) == 0) {
            continue;
        }
        const bool closed = shop_.presses[static_cast<std::size_t>(press)].closed;
        Step way = closed ? turn(press) : start(press);
        if (closed) {
            Step ahead = turn_ahead(press);
            const bool filled = way.pressings > pressings_;
            if (ahead.begins < kNever && (!filled || pressed_from(ahead, press) < pressed_from(way, press))) {
                way = std::move(ahead);
            }
        }
        if (way.begins < best.begins) {
            best = std::move(way);
        }
    }
    return best;
}

std::vector<Seconds> Simulation::state_at(Seconds monday) const {
    const auto relative = [monday](std::vector<Seconds> times) {
        for (Seconds& t : times) {
            t = t >= kNever ? kNever : std::max<Seconds>(0, t - monday);
        }
        std::sort(times.begin(), times.end()); // one is as good as the other
        return times;
    };
    std::vector<Seconds> state = relative(shop_.people);
    for (const std::vector<Seconds>& of : {relative(shop_.molds), relative(shop_.racks)}) {
        state.insert(state.end(), of.begin(), of.end());
    }
    for (const PressState& press : shop_.presses) {
        state.push_back(press.closed ? 1 : 0);
        state.push_back(std::max<Seconds>(0, press.opens - monday));
    }
    return state;
}

void Simulation::sum_up(Schedule& schedule, int from_week, int weeks) const {
    schedule.first_week = from_week;
    schedule.weeks = weeks;
    const Seconds from = from_week * kWeek_s;
    const Seconds to = (from_week + weeks) * kWeek_s;
    const auto within = [&](Seconds begins, Seconds ends) {
        return std::pair{std::clamp(begins, from, to), std::clamp(ends, from, to)};
    };
    std::int64_t decks = 0;
    std::int64_t pressings = 0;
    Seconds busy = 0;
    Seconds rack = 0;
    std::map<int, std::pair<Seconds, Seconds>> held; // by pressing: first in, last out
    std::map<std::pair<int, int>, Seconds> laid;
    std::map<int, Seconds> on;
    for (const Task& task : schedule.tasks) {
        const auto [begins, ends] = within(task.from, task.to);
        if (task.person >= 0) {
            busy += ends - begins;
        }
        if (task.kind == TaskKind::unload && task.to > from && task.to <= to) {
            decks += task.decks;
            rack +=
                task.decks * plan_.cure; // wherever it ends: in a stretch that repeats as much comes in as goes over
        }
        if (task.kind == TaskKind::press && task.from >= from && task.from < to) {
            ++pressings;
        }
        if (task.kind == TaskKind::load || task.kind == TaskKind::unload) {
            const auto [entry, fresh] = held.try_emplace(task.pressing, task.from, kNever);
            if (task.kind == TaskKind::unload) {
                entry->second.second =
                    entry->second.second == kNever ? task.to : std::max(entry->second.second, task.to);
            } else if (!fresh) {
                entry->second.first = std::min(entry->second.first, task.from);
            }
        }
        if (task.kind == TaskKind::lay_up) {
            laid[{task.pressing, task.opening}] = task.to;
        }
        if (task.kind == TaskKind::press) {
            on[task.pressing] = task.from;
        }
    }
    for (const auto& [which, to_s] : laid) {
        if (const auto pressed = on.find(which.first); pressed != on.end()) {
            schedule.longest_wait = std::max(schedule.longest_wait, pressed->second - to_s);
        }
    }
    Seconds filled = 0;
    for (const auto& [pressing, span] : held) {
        const auto [begins, ends] = within(span.first, span.second);
        filled += calendar_.worked(begins, ends);
    }
    const Seconds hours = calendar_.worked(from, to);
    schedule.decks_a_week = static_cast<double>(decks) / weeks;
    schedule.pressings_a_week = static_cast<double>(pressings) / weeks;
    schedule.crew_used = static_cast<double>(busy) / static_cast<double>(hours * plan_.people);
    schedule.press_used = static_cast<double>(filled) / static_cast<double>(hours * plan_.presses);
    schedule.racks_held = static_cast<double>(rack) / static_cast<double>(to - from);
}

Schedule Simulation::run() {
    assert(!plan_.openings.empty() && plan_.people > 0 && plan_.presses > 0 && plan_.molds > 0);
    const auto presses = static_cast<std::size_t>(plan_.presses);
    const auto molds = static_cast<std::size_t>(plan_.molds);
    for (std::size_t i = 0; i < presses; ++i) {
        shares_.push_back(std::min(plan_.openings.size(), molds / presses + (i < molds % presses ? 1 : 0)));
    }
    shop_.people.assign(static_cast<std::size_t>(plan_.people), 0);
    shop_.molds.assign(molds, 0);
    shop_.racks.assign(static_cast<std::size_t>(plan_.racks.value_or(0)), 0);
    shop_.presses.resize(presses);

    Schedule schedule;
    schedule.not_possible = impossible();
    if (!schedule.not_possible.empty()) {
        return schedule;
    }
    std::map<std::vector<Seconds>, int> seen{{state_at(0), 0}};
    int week = 0;
    for (;;) {
        Step step = next_step();
        if (step.begins >= kNever) {
            schedule.not_possible = "nothing can go on: racks or molds are held for ever";
            return schedule;
        }
        while (step.begins >= (week + 1) * kWeek_s) {
            ++week;
            const auto [before, fresh] = seen.try_emplace(state_at(week * kWeek_s), week);
            if (!fresh || week == kMostWeeks) {
                schedule.repeats = !fresh;
                const int from = fresh ? kMostWeeks / 2 : before->second;
                sum_up(schedule, from, week - from);
                return schedule;
            }
        }
        schedule.lays_up_ahead =
            schedule.lays_up_ahead || (step.tasks.front().kind == TaskKind::lay_up && step.tasks.size() > 1 &&
                                       std::any_of(step.tasks.begin(), step.tasks.end(),
                                                   [](const Task& task) { return task.kind == TaskKind::unload; }));
        shop_ = std::move(step.after);
        pressings_ = step.pressings;
        schedule.tasks.insert(schedule.tasks.end(), step.tasks.begin(), step.tasks.end());
    }
}

} // namespace

const char* name_of(TaskKind kind) {
    switch (kind) {
    case TaskKind::lay_up:
        return "lay-up";
    case TaskKind::load:
        return "load";
    case TaskKind::close:
        return "close";
    case TaskKind::press:
        return "press";
    case TaskKind::unload:
        return "unload";
    case TaskKind::cure:
        break;
    }
    return "cure";
}

Schedule simulate(const ShopPlan& shop) { return Simulation(shop).run(); }

std::vector<Task> week_of(const Schedule& schedule, int week) {
    std::vector<Task> tasks;
    for (Task task : schedule.tasks) {
        task.from -= week * kWeek_s;
        task.to -= week * kWeek_s;
        if (task.to > 0 && task.from < kWeek_s) {
            tasks.push_back(task);
        }
    }
    std::stable_sort(tasks.begin(), tasks.end(), [](const Task& a, const Task& b) { return a.from < b.from; });
    return tasks;
}

} // namespace evenclose
