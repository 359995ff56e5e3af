// scene/motion/modelled_heads.hpp: where the jack heads are at a travel by the laws of their jacks, and which slopes
// of the platen follow from how far drives and link shafts may be off.
//
// The slope is linear in the heads' heights. At a given height of the platen's middle it is greatest when the drives
// whose heads raise the slope most for their lift run at their fast end and the others at their slow end; where the cut
// lies is tried. (Exact where the jacks of one motor are alike, as with one jack a motor.) Lags of link shafts come on
// top: see coupled_jacks.hpp.
#pragma once

#include "scene/motion/coupled_jacks.hpp"
#include "scene/motion/level.hpp"

#include <vector>

namespace evenclose {

/// What a piece of the stroke hides between its ends; never less than the truth.
struct BetweenKnots {
    SlopeRange outside; // how far the slope range lies outside of straight lines between its ends: low <= 0 <= high
    double off_chord_mm = 0; // how far any head's rise may lie off its straight line
};

class ModelledHeads {
public:
    /// `open`: the plane through the heads at travel 0.
    /// Needs: two jacks or more, without faults, rates above 0; linked: link_unknown(press) is empty.
    ModelledHeads(const Press& press, bool linked, const LevelPlane& open);

    /// Rise of the platen's middle for each mm of travel: 1, or without drives, where all jacks rise evenly, their mean
    /// rate: travel is then the rise of a jack of rate 1.
    [[nodiscard]] double lift_a_travel() const { return lift_a_travel_; }
    [[nodiscard]] Travel end_of_stroke() const { return end_; }
    [[nodiscard]] std::size_t first_to_end() const { return first_to_end_; }

    /// Above parked, nominal: drives as told, no lag.
    [[nodiscard]] std::vector<double> rises_mm(Travel at) const;
    [[nodiscard]] std::optional<double> seconds(Travel at) const;
    [[nodiscard]] SlopeRange slope_range(Travel at) const;
    /// `at_from`, `at_to`: the slope ranges there.
    [[nodiscard]] BetweenKnots between(Travel from, Travel to, const SlopeRange& at_from,
                                       const SlopeRange& at_to) const;
    /// Where a link shaft takes over from the drives' own tolerance: the range has a kink there.
    [[nodiscard]] std::vector<Travel> kinks() const;

    /// How far each head may be off its nominal place because of link shafts: below 0 behind, above 0 ahead.
    [[nodiscard]] std::vector<Interval> deviations_mm(Travel at) const;

private:
    using Shares = std::vector<double>; // of each jack

    [[nodiscard]] double progress_for(double lift_mm, const Shares& shares) const;
    [[nodiscard]] std::vector<double> rises_mm(double lift_mm, const Shares& shares) const;
    [[nodiscard]] double slope(double lift_mm, const Shares& shares, int axis) const;
    /// A path cut into pieces of even lift.
    struct Trace {
        std::vector<double> lifts_mm, progress;
        std::vector<std::vector<double>> rises_mm; // at each, of each head
    };
    [[nodiscard]] Trace trace(Travel from, Travel to, const Shares& shares) const;
    /// Bounds of each head's rise for 1 mm of the middle's, over one piece.
    [[nodiscard]] std::vector<Interval> rises_a_lift(const Trace& trace, std::size_t piece, const Shares& shares) const;
    [[nodiscard]] std::vector<Shares> cuts(int axis, bool greatest) const;
    [[nodiscard]] double lag_mm(const Follower& follower, const std::vector<double>& rises_mm, bool ahead) const;
    /// How far drives can run apart, as a height of the follower's head, at most between two progresses.
    [[nodiscard]] double drives_apart_mm(const Follower& follower, double from, double to) const;
    [[nodiscard]] std::vector<Interval> deviations_between(Travel from, Travel to) const;
    [[nodiscard]] Interval reach(const std::vector<Interval>& deviations, int axis) const;
    [[nodiscard]] double slope_of(const std::vector<double>& rises_mm, int axis) const;
    /// How far the greatest slope lies above a line (or, negated, the least one below), lags on top.
    [[nodiscard]] double above(const Trace& trace, const Shares& shares, const std::vector<Interval>& lags,
                               double line_from, double line_to, int axis, bool greatest) const;
    [[nodiscard]] double off_chord_mm(Travel from, Travel to) const;

    CoupledJacks coupled_;
    std::vector<double> weights_[2]; // how much the slope changes for 1 mm of each head
    double open_slope_[2] = {0, 0};
    std::vector<double> rated_load_N_;
    std::vector<bool> knows_effort_;
    Shares nominal_;
    std::vector<Shares> fast_[2], slow_[2]; // to be tried for the greatest and the least slope of each axis
    bool all_linear_ = true;
    double lift_a_travel_ = 1;
    double most_shift_mm_ = 0; // of the platen's middle by lags
    Travel end_;
    std::size_t first_to_end_ = 0;
};

} // namespace evenclose
