// scene/motion/tabled_heads.hpp: where the jack heads are at a travel as read off the real press.
//
// Straight between two rows; what the press does there in truth nobody has measured. Each reading may be off by the
// table's spread either way, each head by itself.
#pragma once

#include "scene/motion/level.hpp"
#include "scene/motion/modelled_heads.hpp"

#include <vector>

namespace evenclose {

class TabledHeads {
public:
    /// Needs: press.measured_heights with two rows or more, travel rising from 0, a height for each jack, the mean
    /// height rising.
    explicit TabledHeads(const Press& press);

    [[nodiscard]] Travel end_of_stroke() const { return end_; }
    [[nodiscard]] std::size_t first_to_end() const { return first_to_end_; }
    [[nodiscard]] bool table_ends_first() const { return table_ends_first_; } // before any jack does

    /// Above the floor. Before the first and after the last row: as there.
    [[nodiscard]] std::vector<double> heads_mm(Travel at) const;
    [[nodiscard]] double lift_mm(Travel at) const; // of the heads' mean; after the last row: on the last slope
    [[nodiscard]] Travel travel_at_lift(double lift_mm) const;
    [[nodiscard]] double spread_mm() const { return table_.spread_mm; }
    [[nodiscard]] std::vector<Travel> rows() const; // within the stroke

private:
    [[nodiscard]] double mean_mm(std::size_t row) const;

    MeasuredHeights table_;
    Travel end_;
    std::size_t first_to_end_ = 0;
    bool table_ends_first_ = false;
};

} // namespace evenclose
