#include "viewer/app/comparison.hpp"

#include <algorithm>
#include <cmath>

namespace evenclose {
namespace {

/// How bad, for sorting; what is not there is as good as go.
int badness(const Finding* finding) {
    if (finding == nullptr) {
        return 0;
    }
    switch (finding->verdict) {
    case Verdict::go:
        return 0;
    case Verdict::not_checked:
        return 1;
    case Verdict::marginal:
        return 2;
    case Verdict::no_go:
        return 3;
    }
    return 0;
}

bool differ(const Finding* a, const Finding* b) {
    if (a == nullptr || b == nullptr) {
        return a != b;
    }
    // A hundredth of a mm, a percent of anything else: less is no difference to a shop.
    const auto apart = [](double x, double y) {
        return std::abs(x - y) > std::max(0.01, 0.01 * std::max(std::abs(x), std::abs(y)));
    };
    return a->verdict != b->verdict || a->value.has_value() != b->value.has_value() ||
           (a->value && apart(*a->value, *b->value));
}

} // namespace

std::vector<ComparedRow> compared_rows(const CheckResults& before, const CheckResults& now) {
    std::vector<ComparedRow> rows;
    const auto row_of = [&](const std::string& check) -> ComparedRow& {
        const auto found =
            std::find_if(rows.begin(), rows.end(), [&](const ComparedRow& row) { return row.check == check; });
        if (found != rows.end()) {
            return *found;
        }
        rows.push_back({check, nullptr, nullptr, false});
        return rows.back();
    };
    // Findings come worst first, so the first of a check is its worst.
    for (const Finding& finding : now.findings) {
        ComparedRow& row = row_of(finding.check);
        row.now = row.now == nullptr ? &finding : row.now;
    }
    for (const Finding& finding : before.findings) {
        ComparedRow& row = row_of(finding.check);
        row.before = row.before == nullptr ? &finding : row.before;
    }
    for (ComparedRow& row : rows) {
        row.differs = differ(row.before, row.now);
    }
    std::stable_sort(rows.begin(), rows.end(), [](const ComparedRow& a, const ComparedRow& b) {
        if (a.differs != b.differs) {
            return a.differs;
        }
        return std::max(badness(a.before), badness(a.now)) > std::max(badness(b.before), badness(b.now));
    });
    return rows;
}

} // namespace evenclose
