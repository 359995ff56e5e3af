// scene/motion/head_path.hpp: how far one jack head has risen as the drives run, and how fast it rises.
//
// All drives run together; `progress` counts how long: seconds at their stated speeds, or, without drives, the rise of
// a jack that keeps pace. A jack may run a share x of what is nominal: 1.01 = 1 % fast.
//
// Along one path the rise only grows, and the rate of every law (rise a turn, or a mm3) is monotone in the rise: a
// scissor slows down, a hose speeds up, screw and cylinder keep it. So over a piece of the path the slope d rise / d
// progress lies between what its factors are at the ends: bounds that need no samples in between.
#pragma once

#include "scene/press/press.hpp"

#include <optional>

namespace evenclose {

struct Interval {
    double low = 0, high = 0;
};

class HeadPath {
public:
    /// Without a drive: its turns are those with which `pace` (itself, or the jack that it is coupled to) rises by
    /// `progress`.
    HeadPath(const Jack& jack, const Jack& pace);
    /// With one: so many turns (or mm3) a second.
    HeadPath(const Jack& jack, double drive_a_second);

    /// Above its parked height, mm. A linkage or a hose stops where its geometry ends.
    [[nodiscard]] double rise_mm(double progress, double share) const;
    /// d rise / d progress there.
    [[nodiscard]] double slope(double progress, double share) const;
    /// Of the slope, for every progress between.   Needs: from <= to.
    [[nodiscard]] Interval slope_between(double from, double to, double share) const;
    /// How far the rises of two shares lie apart, at most, for every progress between.   Needs: low <= high.
    [[nodiscard]] double apart_at_most_mm(double from, double to, double low_share, double high_share) const;
    /// Progress at which it has risen so far; negative if it is parked above that.
    [[nodiscard]] double progress_at(double rise_mm, double share) const;
    /// Rise = share x slope x progress, exactly.
    [[nodiscard]] bool linear() const { return linear_; }

    /// Rise a turn (or a mm3) when it has risen so far above parked; torque or pressure there under a load.
    [[nodiscard]] double rate_at(double rise_mm) const;
    [[nodiscard]] double effort_at(double rise_mm, double load_N) const;

private:
    void park(const Jack& jack);
    [[nodiscard]] double drive_after(double progress) const; // nominal turns or mm3 from parked
    [[nodiscard]] bool ends(double progress, double share) const;
    [[nodiscard]] double drive_slope(double progress) const;

    HeightLaw law_;
    double parked_mm_ = 0, parked_drive_ = 0, most_drive_ = 0, most_mm_ = 0;
    bool linear_ = false;
    double linear_slope_ = 1;
    double drive_a_second_ = 0;         // with a drive
    std::optional<HeightLaw> pace_law_; // without
    double pace_parked_mm_ = 0, pace_parked_drive_ = 0, pace_most_mm_ = 0;
};

} // namespace evenclose
