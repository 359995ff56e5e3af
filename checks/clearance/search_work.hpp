// checks/clearance/search_work.hpp: what the search passes from task to task.
#pragma once

#include "checks/clearance/pair_search.hpp"

#include <cstdint>
#include <vector>

namespace evenclose {

inline constexpr std::uint32_t kPlace = 1U << 31U; // marks a triangle's place in the order instead of a node

/// A pair of nodes (or of triangles) and the cells in which it still matters.
struct Work {
    std::uint32_t a = 0, b = 0;
    std::uint32_t from = 0, to = 0;
    float share = 1; // of the whole search, for progress
};

/// Where an unsettled cell would best be cut. Greater kinds win; among starts the earliest, among ends the latest.
struct Cut {
    enum class Kind { none, middle, start_of_contact, end_of_contact };
    Kind kind = Kind::none;
    double at_mm = 0;

    void take(const Cut& other) {
        if (other.kind != kind ? other.kind > kind
                               : (kind == Kind::start_of_contact && other.at_mm < at_mm) ||
                                     (kind == Kind::end_of_contact && other.at_mm > at_mm)) {
            *this = other;
        }
    }
};

struct CellState {
    bool unsettled = false;
    Cut cut;
};

/// What one task came to.
struct TaskTally {
    std::vector<Work> put_off;
    double settled = 0; // share of the whole
    SearchCounts counts;
};

} // namespace evenclose
