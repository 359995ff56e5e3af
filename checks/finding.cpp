#include "checks/finding.hpp"

#include <algorithm>

namespace evenclose {

const char* name_of(Verdict verdict) {
    switch (verdict) {
    case Verdict::go:
        return "go";
    case Verdict::not_checked:
        return "not checked";
    case Verdict::marginal:
        return "marginal";
    case Verdict::no_go:
        return "no-go";
    }
    return "";
}

Verdict worst_of(const std::vector<Finding>& findings) {
    Verdict worst = Verdict::go;
    for (const Finding& finding : findings) {
        worst = std::max(worst, finding.verdict);
    }
    return worst;
}

void sort_worst_first(std::vector<Finding>& findings) {
    std::stable_sort(findings.begin(), findings.end(),
                     [](const Finding& a, const Finding& b) { return a.verdict > b.verdict; });
}

} // namespace evenclose
