// checks/plan/schedule.hpp: a shop's week at its presses, by discrete-event simulation in whole seconds.
//
// One pressing: each mold is laid up by one person (spread, stack) and carried in by the same; when the last is in, the
// press is closed; it stays closed for the press time, also over night; then each mold is taken out, its deck cures on a
// rack, and the next pressing follows. Everybody does what comes first; a task goes to whoever is free first.
//
// - Nobody begins what cannot be ended the same day: no task is broken off, and no spread glue waits for the morning.
//   Opening work (molds out) may be done late in the day without a next pressing.
// - With enough molds to spare, the next pressing is laid up while the press is still closed, so that the last one is
//   done when it opens; unless the first of them would then wait for pressure longer than the glue's closed assembly time.
// - A mold is not taken out before there are racks for its decks.
// - Molds are dealt out to the presses evenly, the first ones get one more; what a press's openings do not take is spare.
//
// Which comes first, and ties: the step that can begin earliest; of such the one of the press with the lower number. So
// the same shop gives the same week, to the second. This is list scheduling: good, and what people do, but not proven to
// be the best of all weeks; one more helper can even cost something (R. L. Graham, Bounds on multiprocessing timing
// anomalies, SIAM J. Appl. Math. 17, 1969).
//
// The state on Monday morning is a finite list of whole numbers; once it comes back, everything after repeats. So the
// rate below is exact, no average over a guess of weeks.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace evenclose {

using Seconds = std::int64_t;

inline constexpr Seconds kDay_s = 86400;
inline constexpr Seconds kWeek_s = 7 * kDay_s;

struct MoldWork {
    Seconds lay_up = 0, load = 0, unload = 0;
    int decks = 1;
};

struct ShopPlan {
    std::vector<MoldWork> openings;      // of one press, in the order of loading
    Seconds close = 0;                   // from the last mold in until the pressure is on; one person's
    Seconds press = 0;                   // under pressure
    Seconds cure = 0;                    // on a rack
    std::optional<Seconds> closed_limit; // closed assembly time: from laid up until the pressure is on
    int people = 1;
    int presses = 1;
    int molds = 1;            // all presses together
    std::optional<int> racks; // places for a deck each; none: as many as it takes
    Seconds day_begins = Seconds{8} * 3600, day_ends = Seconds{16} * 3600;
    int days_a_week = 5;
};

enum class TaskKind { lay_up, load, close, press, unload, cure };
[[nodiscard]] const char* name_of(TaskKind kind); // "lay-up", "load", "close", "press", "unload", "cure"

struct Task {
    TaskKind kind = TaskKind::lay_up;
    int press = 0;
    int opening = -1; // -1: of the whole press
    int person = -1;  // -1: nobody's
    int pressing = 0; // counted from 0 over the whole run
    int decks = 0;
    Seconds from = 0, to = 0; // since Monday 0:00 of the first week
};

struct Schedule {
    std::string not_possible; // why there is no week at all; empty: there is one
    double decks_a_week = 0;  // for as long as the shop goes on like this
    double pressings_a_week = 0;
    int first_week = 0, weeks = 0; // the stretch that repeats: from its first week, so many weeks
    bool repeats = true;           // false: nothing came back in kMostWeeks; the rate is of the last half of them
    bool lays_up_ahead = false;    // at least once
    Seconds longest_wait = 0;      // laid up until under pressure, at worst
    double crew_used = 0;          // share of all people's working hours in that stretch
    double press_used = 0;         // share of the working hours that a press holds decks, from first in to last out
    double racks_held = 0;         // places taken, on average over day and night
    std::vector<Task> tasks;       // all of the run, by commitment: a pressing's tasks together
};

inline constexpr int kMostWeeks = 60;

/// Needs: one opening, person, press and mold at least; times of 0 or more; a day of 24 hours at most that begins before
/// it ends; 1 to 7 days a week.   Threads: pure, any.
[[nodiscard]] Schedule simulate(const ShopPlan& shop);

/// The tasks that lie in that week, wholly or in part, times since its Monday 0:00.
[[nodiscard]] std::vector<Task> week_of(const Schedule& schedule, int week);

} // namespace evenclose
