#include "scene/motion/tabled_heads.hpp"

#include <algorithm>
#include <numeric>

namespace evenclose {

TabledHeads::TabledHeads(const Press& press) : table_(*press.measured_heights) {
    end_ = {table_.travel_mm.back()};
    table_ends_first_ = true;
    for (std::size_t jack = 0; jack < press.jacks.size(); ++jack) {
        const double top = press.jacks[jack].head_z_mm(press.jacks[jack].stroke_mm);
        for (std::size_t row = 0; row + 1 < table_.travel_mm.size(); ++row) {
            const double below = table_.heads_mm[row][jack];
            const double above = table_.heads_mm[row + 1][jack];
            if (below <= top && top < above) {
                const double share = (top - below) / (above - below);
                const double ends = std::lerp(table_.travel_mm[row], table_.travel_mm[row + 1], share);
                if (ends < end_.mm) {
                    end_ = {ends};
                    first_to_end_ = jack;
                    table_ends_first_ = false;
                }
                break;
            }
        }
    }
}

std::vector<double> TabledHeads::heads_mm(Travel at) const {
    const std::vector<double>& travels = table_.travel_mm;
    const auto after = std::upper_bound(travels.begin(), travels.end(), at.mm);
    if (after == travels.begin()) {
        return table_.heads_mm.front();
    }
    if (after == travels.end()) {
        return table_.heads_mm.back();
    }
    const auto row = static_cast<std::size_t>(after - travels.begin());
    const double share = (at.mm - travels[row - 1]) / (travels[row] - travels[row - 1]);
    std::vector<double> heads = table_.heads_mm[row - 1];
    for (std::size_t jack = 0; jack < heads.size(); ++jack) {
        heads[jack] = std::lerp(heads[jack], table_.heads_mm[row][jack], share);
    }
    return heads;
}

double TabledHeads::mean_mm(std::size_t row) const {
    const std::vector<double>& heads = table_.heads_mm[row];
    return std::accumulate(heads.begin(), heads.end(), 0.0) / static_cast<double>(heads.size());
}

double TabledHeads::lift_mm(Travel at) const {
    std::size_t row = 1;
    while (row + 1 < table_.travel_mm.size() && table_.travel_mm[row] < at.mm) {
        ++row;
    }
    const double share = (at.mm - table_.travel_mm[row - 1]) / (table_.travel_mm[row] - table_.travel_mm[row - 1]);
    return std::lerp(mean_mm(row - 1), mean_mm(row), share) - mean_mm(0);
}

Travel TabledHeads::travel_at_lift(double lift_mm) const {
    std::size_t row = 1;
    while (row + 1 < table_.travel_mm.size() && mean_mm(row) - mean_mm(0) < lift_mm) {
        ++row;
    }
    const double share = (lift_mm + mean_mm(0) - mean_mm(row - 1)) / (mean_mm(row) - mean_mm(row - 1));
    return {std::lerp(table_.travel_mm[row - 1], table_.travel_mm[row], share)};
}

std::vector<Travel> TabledHeads::rows() const {
    std::vector<Travel> rows;
    for (const double travel : table_.travel_mm) {
        if (Travel{travel} < end_) {
            rows.push_back({travel});
        }
    }
    rows.push_back(end_);
    return rows;
}

} // namespace evenclose
