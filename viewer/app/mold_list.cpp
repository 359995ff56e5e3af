#include "viewer/app/mold_list.hpp"

#include "checks/phrase.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <utility>

namespace evenclose {
namespace {

bool digit(char c) { return c >= '0' && c <= '9'; }

char small(char c) { return static_cast<char>(std::tolower(static_cast<unsigned char>(c))); }

std::string small(std::string_view words) {
    std::string out{words};
    std::transform(out.begin(), out.end(), out.begin(), [](char c) { return small(c); });
    return out;
}

/// The digits at `at` without leading zeros; `at` goes behind them.
std::string_view number_at(std::string_view words, std::size_t& at) {
    while (at < words.size() && words[at] == '0') {
        ++at;
    }
    const std::size_t from = at;
    while (at < words.size() && digit(words[at])) {
        ++at;
    }
    return words.substr(from, at - from);
}

/// Below 0, 0, above 0.
int compared(std::string_view a, std::string_view b) {
    std::size_t i = 0, j = 0;
    while (i < a.size() && j < b.size()) {
        if (digit(a[i]) && digit(b[j])) {
            const std::string_view x = number_at(a, i), y = number_at(b, j);
            if (x.size() != y.size()) {
                return x.size() < y.size() ? -1 : 1;
            }
            if (const int apart = x.compare(y); apart != 0) {
                return apart;
            }
            continue;
        }
        const auto x = static_cast<unsigned char>(small(a[i++]));
        const auto y = static_cast<unsigned char>(small(b[j++]));
        if (x != y) {
            return x < y ? -1 : 1;
        }
    }
    return i < a.size() ? 1 : j < b.size() ? -1 : 0;
}

bool stands(const FileStamps& stamps, std::int64_t now_ns) {
    return std::all_of(stamps.begin(), stamps.end(), [&](const auto& entry) {
        const std::int64_t age = now_ns - entry.second.written_ns;
        return !entry.second.there || age < 0 || age >= kAtRest_ns; // a clock that is ahead tells nothing
    });
}

} // namespace

bool listed_before(const ListedMold& a, const ListedMold& b) {
    const int apart = compared(a.name, b.name);
    return apart != 0 ? apart < 0 : a.file < b.file;
}

std::vector<std::size_t> found_molds(const std::vector<ListedMold>& molds,
                                     const std::vector<std::optional<Verdict>>& verdicts, std::string_view sought) {
    std::vector<std::string> words;
    std::string word;
    for (const char c : small(sought) + " ") {
        if (c != ' ') {
            word += c;
        } else if (!word.empty()) {
            words.push_back(std::exchange(word, {}));
        }
    }
    std::vector<std::size_t> found;
    for (std::size_t i = 0; i < molds.size(); ++i) {
        const std::string text = small(molds[i].name) + "\n" + small(molds[i].file.filename().string());
        const bool all = std::all_of(words.begin(), words.end(), [&](const std::string& part) {
            return text.find(part) != std::string::npos ||
                   (i < verdicts.size() && verdicts[i] && part == name_of(*verdicts[i]));
        });
        if (all) {
            found.push_back(i);
        }
    }
    return found;
}

std::size_t stepped(std::size_t from, CardStep step, std::size_t count, std::size_t columns, std::size_t rows_a_page) {
    if (count == 0 || columns == 0) {
        return 0;
    }
    const std::size_t last = count - 1;
    from = std::min(from, last);
    const std::size_t page = std::max<std::size_t>(rows_a_page, 1) * columns;
    // Up and down stay in their column; from the row above a shorter last one they go to its end.
    const auto up = [&](std::size_t by) {
        while (by > from && by > columns) {
            by -= columns;
        }
        return by <= from ? from - by : from;
    };
    const auto down = [&](std::size_t by) {
        while (by > columns && from + by > last) {
            by -= columns;
        }
        const bool row_below = from / columns < last / columns;
        return from + by <= last ? from + by : row_below ? last : from;
    };
    switch (step) {
    case CardStep::left:
        return from > 0 ? from - 1 : from;
    case CardStep::right:
        return std::min(from + 1, last);
    case CardStep::up:
        return up(columns);
    case CardStep::down:
        return down(columns);
    case CardStep::page_up:
        return up(page);
    case CardStep::page_down:
        return down(page);
    case CardStep::first:
        return 0;
    case CardStep::last:
        return last;
    }
    return from;
}

FitWords fit_words(const Fit& fit, UnitSystem units) {
    return {name_of(fit.verdict), fit.first ? shown(fit.first->title, units) : std::string()};
}

std::string fault_words(const std::vector<DocumentFault>& faults) {
    if (faults.empty()) {
        return {};
    }
    DocumentFault first = faults.front();
    first.file = std::filesystem::path(first.file).filename().string();
    return first.sentence() +
           (faults.size() > 1 ? fmt::format("; and {} more fault{}", faults.size() - 1, faults.size() == 2 ? "" : "s")
                              : "");
}

std::string counted_words(const MoldListing& listing, const std::vector<std::optional<Verdict>>& verdicts,
                          std::size_t unread, bool listed) {
    const std::size_t all = listing.molds.size();
    if (!listed || all == 0) {
        return {};
    }
    std::string words =
        listing.cut_short ? fmt::format("the first {} molds", all) : fmt::format("{} mold{}", all, all == 1 ? "" : "s");
    const char* before = ": ";
    for (const Verdict verdict : {Verdict::go, Verdict::marginal, Verdict::not_checked, Verdict::no_go}) {
        if (const auto count = std::count(verdicts.begin(), verdicts.end(), std::optional(verdict)); count > 0) {
            words += fmt::format("{}{} {}", std::exchange(before, ", "), count, name_of(verdict));
        }
    }
    return words + (unread > 0 ? fmt::format("{}{} cannot be read", before, unread) : "");
}

std::optional<double> seconds_left(std::size_t done, std::size_t all, double elapsed_s) {
    if (done == 0 || !(elapsed_s >= 0)) {
        return std::nullopt;
    }
    return elapsed_s / static_cast<double>(done) * static_cast<double>(all > done ? all - done : 0);
}

std::string left_words(double seconds) {
    // Nobody sets a watch by it: fives of seconds, minutes.
    const double s = std::max(seconds, 0.0);
    if (s < 5) {
        return "a few seconds left";
    }
    return s < 90 ? fmt::format("about {:.0f} s left", 5 * std::ceil(s / 5))
                  : fmt::format("about {:.0f} min left", std::ceil(s / 60));
}

std::size_t next_of(const std::vector<ListedMold>& molds, const std::vector<std::size_t>& waiting,
                    const std::vector<std::filesystem::path>& in_sight) {
    for (const std::filesystem::path& file : in_sight) {
        const auto seen =
            std::find_if(waiting.begin(), waiting.end(), [&](std::size_t i) { return molds[i].file == file; });
        if (seen != waiting.end()) {
            return *seen;
        }
    }
    return waiting.front();
}

std::vector<ListedMold> at_rest(const std::vector<ListedMold>& before, std::vector<ListedMold> now,
                                std::int64_t now_ns) {
    std::vector<ListedMold> resting;
    for (ListedMold& mold : now) {
        const auto known =
            std::find_if(before.begin(), before.end(), [&](const ListedMold& one) { return one.file == mold.file; });
        if (stands(mold.stamps, now_ns)) {
            resting.push_back(std::move(mold));
        } else if (known != before.end()) {
            resting.push_back(*known);
        }
    }
    return resting;
}

} // namespace evenclose
