#include "checks/travel/worst_pairs.hpp"

#include <algorithm>
#include <numeric>

namespace evenclose {
namespace {

double foul_length_mm(const Sweep& sweep) {
    return std::accumulate(sweep.contacts.begin(), sweep.contacts.end(), 0.0,
                           [](double sum, const ContactSpan& span) { return sum + (span.to - span.from).mm; });
}

int rank(const Sweep& sweep) {
    switch (sweep.contact) {
    case Contact::foul:
    case Contact::inside:
        return 0;
    case Contact::touching:
        return 1;
    case Contact::clear:
        return 2;
    case Contact::not_checked:
    case Contact::cancelled:
        return 3;
    }
    return 3;
}

} // namespace

bool fouls(const Sweep& sweep) { return sweep.contact == Contact::foul || sweep.contact == Contact::inside; }

std::vector<std::size_t> worst_first(const std::vector<const Sweep*>& sweeps) {
    std::vector<std::size_t> order(sweeps.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(), [&](std::size_t i, std::size_t j) {
        const Sweep& a = *sweeps[i];
        const Sweep& b = *sweeps[j];
        if (rank(a) != rank(b)) {
            return rank(a) < rank(b);
        }
        if (rank(a) == 0 && foul_length_mm(a) != foul_length_mm(b)) {
            return foul_length_mm(a) > foul_length_mm(b);
        }
        return a.least_lower_mm < b.least_lower_mm;
    });
    return order;
}

Travel worst_travel(const Sweep& sweep) {
    return fouls(sweep) && !sweep.contacts.empty() ? sweep.contacts.front().from : sweep.least_at;
}

} // namespace evenclose
