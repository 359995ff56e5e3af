#include "checks/report/profile_csv.hpp"

#include "checks/report/text_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <set>
#include <string>
#include <vector>

namespace evenclose {
namespace {

// Borders nearer to each other than this are one: no spreadsheet shows them apart, and no press is set so finely.
constexpr double kFinest_mm = 0.001;

/// Goes along the spans of one pair; asked for rising stretches only.
class Along {
public:
    explicit Along(const Sweep& sweep) : sweep_{&sweep} {}
    /// The least that is kept over the whole stretch; none if some of it was not swept.
    std::optional<double> least_over(double from_mm, double to_mm) {
        const std::vector<ClearanceSpan>& spans = sweep_->spans;
        while (which_ < spans.size() && spans[which_].to.mm <= from_mm) {
            ++which_;
        }
        if (which_ == spans.size() || spans[which_].from.mm > from_mm || spans.back().to.mm < to_mm) {
            return std::nullopt;
        }
        double least = spans[which_].lower_mm;
        for (std::size_t i = which_ + 1; i < spans.size() && spans[i].from.mm < to_mm; ++i) {
            least = std::min(least, spans[i].lower_mm);
        }
        return least;
    }

private:
    const Sweep* sweep_;
    std::size_t which_ = 0;
};

/// In order, none nearer to the one before than kFinest_mm; the last one stays.
std::vector<double> thinned(const std::set<double>& borders) {
    std::vector<double> kept;
    for (const double border : borders) {
        if (!kept.empty() && border - kept.back() < kFinest_mm) {
            if (border == *borders.rbegin() && kept.size() > 1) {
                kept.back() = border;
            }
            continue;
        }
        kept.push_back(border);
    }
    return kept;
}

struct OverDeck {
    double low = 0, nominal = 0, high = 0;
};

/// Linear between the points of the curve, as the ride is.
std::optional<OverDeck> over_deck(const LevelCurve* curve, double at_mm) {
    if (curve == nullptr || curve->points.empty()) {
        return std::nullopt;
    }
    const auto& points = curve->points;
    const auto next =
        std::find_if(points.begin(), points.end(), [&](const LevelPoint& it) { return it.at.mm >= at_mm; });
    const LevelPoint& b = next == points.end() ? points.back() : *next;
    const LevelPoint& a = next == points.begin() || next == points.end() ? b : *(next - 1);
    const double share = b.at.mm > a.at.mm ? (at_mm - a.at.mm) / (b.at.mm - a.at.mm) : 0.0;
    return OverDeck{std::lerp(a.low_over_deck_mm, b.low_over_deck_mm, share),
                    std::lerp(a.nominal_over_deck_mm, b.nominal_over_deck_mm, share),
                    std::lerp(a.high_over_deck_mm, b.high_over_deck_mm, share)};
}

} // namespace

std::string profile_csv(const Assembly& assembly, const CheckResults& results) {
    std::set<double> borders;
    for (const PairProfile& pair : results.profiles) {
        for (const ClearanceSpan& span : pair.sweep.spans) {
            borders.insert({span.from.mm, span.to.mm});
        }
    }
    const LevelCurve* level = nullptr;
    for (const LevelCurve& curve : results.level) {
        if (curve.counts) {
            level = &curve;
            std::for_each(curve.points.begin(), curve.points.end(),
                          [&](const LevelPoint& point) { borders.insert(point.at.mm); });
        }
    }
    std::vector<std::string> head{"travel from (mm)", "travel to (mm)", "over deck at least (mm)",
                                  "over deck nominal (mm)", "over deck at most (mm)"};
    std::vector<Along> along;
    for (const PairProfile& pair : results.profiles) {
        head.push_back(
            fmt::format("{} | {} (mm)", assembly.bodies[pair.first].name, assembly.bodies[pair.second].name));
        along.emplace_back(pair.sweep);
    }
    std::string csv = csv_line(head);
    const std::vector<double> borders_kept = thinned(borders);
    for (std::size_t i = 0; i + 1 < borders_kept.size(); ++i) {
        const double from = borders_kept[i];
        const double to = borders_kept[i + 1];
        std::vector<std::string> cells{fmt::format("{:.7g}", from), fmt::format("{:.7g}", to), "", "", ""};
        if (const std::optional<OverDeck> over = over_deck(level, from)) {
            cells[2] = fmt::format("{:.6g}", over->low);
            cells[3] = fmt::format("{:.6g}", over->nominal);
            cells[4] = fmt::format("{:.6g}", over->high);
        }
        for (Along& pair : along) {
            const std::optional<double> least = pair.least_over(from, to);
            cells.push_back(least ? fmt::format("{:.6g}", *least) : std::string{});
        }
        csv += csv_line(cells);
    }
    return csv;
}

} // namespace evenclose
