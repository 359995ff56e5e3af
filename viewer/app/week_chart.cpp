#include "viewer/app/week_chart.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace evenclose {
namespace {

std::string clock(Seconds of_day) { return fmt::format("{}:{:02}", of_day / 3600, of_day / 60 % 60); }

/// "Mo 8:12"
std::string when(Seconds t) {
    constexpr const char* days[] = {"Mo", "Tu", "We", "Th", "Fr", "Sa", "Su"};
    const Seconds in_week = ((t % kWeek_s) + kWeek_s) % kWeek_s;
    return fmt::format("{} {}", days[in_week / kDay_s], clock(in_week % kDay_s));
}

std::string told_of(const Task& task) {
    std::string what = name_of(task.kind);
    what[0] = static_cast<char>(what[0] - 'a' + 'A');
    if (task.opening >= 0) {
        what += fmt::format(", opening {}", task.opening + 1);
    }
    return fmt::format("{}, {} to {}", what, when(task.from), when(task.to));
}

class Days {
public:
    explicit Days(const ShopPlan& shop) : shop_(shop) {}
    /// One bar for each working day that the time between the two touches.
    template <class Add> void split(Seconds from, Seconds to, const Add& add) const {
        const auto length = static_cast<double>(shop_.day_ends - shop_.day_begins);
        for (int day = 0; day < shop_.days_a_week; ++day) {
            const Seconds begins = day * kDay_s + shop_.day_begins;
            const Seconds ends = day * kDay_s + shop_.day_ends;
            const Seconds a = std::max(from, begins);
            const Seconds b = std::min(to, ends);
            if (a < b) {
                add(day, static_cast<double>(a - begins) / length, static_cast<double>(b - begins) / length);
            }
        }
    }

private:
    const ShopPlan& shop_;
};

WeekLine racks_line(const std::vector<Task>& tasks, const ShopPlan& shop) {
    std::vector<std::pair<Seconds, int>> changes;
    for (const Task& task : tasks) {
        if (task.kind == TaskKind::cure) {
            changes.emplace_back(task.from, task.decks);
            changes.emplace_back(task.to, -task.decks);
        }
    }
    std::sort(changes.begin(), changes.end());
    int most = 0;
    int held = 0;
    for (const auto& [t, by] : changes) {
        held += by;
        most = std::max(most, held);
    }
    most = std::max(1, shop.racks.value_or(most));
    WeekLine line;
    line.name = shop.racks ? fmt::format("racks ({})", *shop.racks) : std::string("racks");
    held = 0;
    for (std::size_t i = 0; i + 1 < changes.size(); ++i) {
        held += changes[i].second;
        if (held > 0) {
            Days(shop).split(changes[i].first, changes[i + 1].first, [&](int day, double from, double to) {
                line.bars.push_back({day, from, to, TaskKind::cure, 0, static_cast<double>(held) / most,
                                     fmt::format("{} deck{} on racks", held, held == 1 ? "" : "s")});
            });
        }
    }
    return line;
}

} // namespace

WeekChart week_chart(const TimeMeasure& measure) {
    const ShopPlan& shop = *measure.plan;
    const std::vector<Task> tasks = week_of(measure.schedule, measure.schedule.first_week);
    WeekChart chart;
    chart.days = shop.days_a_week;
    chart.begins = clock(shop.day_begins);
    chart.ends = clock(shop.day_ends);
    for (int press = 0; press < shop.presses; ++press) {
        chart.lines.push_back({shop.presses == 1 ? std::string("press") : fmt::format("press {}", press + 1), {}});
    }
    for (int person = 0; person < shop.people; ++person) {
        chart.lines.push_back({shop.people == 1 ? std::string("person") : fmt::format("person {}", person + 1), {}});
    }
    std::set<int> begun;
    for (const Task& task : tasks) {
        const auto put = [&](std::size_t line) {
            Days(shop).split(task.from, task.to, [&](int day, double from, double to) {
                chart.lines[line].bars.push_back({day, from, to, task.kind, task.pressing, 1, told_of(task)});
            });
        };
        if (task.kind == TaskKind::press && task.from >= 0) {
            begun.insert(task.pressing);
        }
        if (task.kind == TaskKind::cure) {
            continue;
        }
        if (task.kind != TaskKind::lay_up) { // done at the bench
            put(static_cast<std::size_t>(task.press));
        }
        if (task.person >= 0) {
            put(static_cast<std::size_t>(shop.presses + task.person));
        }
    }
    chart.pressings_a_week = static_cast<int>(begun.size());
    if (shop.cure > 0) {
        chart.lines.push_back(racks_line(tasks, shop));
    }
    return chart;
}

} // namespace evenclose
