#include "scene/motion/head_path.hpp"

#include <algorithm>

namespace evenclose {
namespace {

bool is_linear(const HeightLaw& law) {
    return std::holds_alternative<ScrewLaw>(law) || std::holds_alternative<CylinderLaw>(law);
}

// Right at its end a linkage stands still and a hose touches nothing: laws are asked a hair below it, a tenth of a
// micrometre in 100 mm.
constexpr double kBelowTheEnd = 1 - 1e-6;

} // namespace

void HeadPath::park(const Jack& jack) {
    law_ = law_of(jack);
    parked_mm_ = jack.parked_mm;
    if (is_linear(law_)) {
        return;
    }
    most_mm_ = kBelowTheEnd * most_rise_mm(law_);
    most_drive_ = drive_for(law_, most_mm_);
    parked_drive_ = drive_for(law_, parked_mm_);
}

HeadPath::HeadPath(const Jack& jack, const Jack& pace) {
    park(jack);
    const HeightLaw pace_law = law_of(pace);
    if (is_linear(law_) && is_linear(pace_law)) {
        linear_ = true;
        linear_slope_ = &jack == &pace ? 1.0 : rate(law_, 0) / rate(pace_law, 0);
        return;
    }
    pace_law_ = pace_law;
    pace_parked_mm_ = pace.parked_mm;
    pace_parked_drive_ = drive_for(pace_law, pace.parked_mm);
    pace_most_mm_ = kBelowTheEnd * most_rise_mm(pace_law);
}

HeadPath::HeadPath(const Jack& jack, double drive_a_second) : drive_a_second_(drive_a_second) {
    park(jack);
    if (is_linear(law_)) {
        linear_ = true;
        linear_slope_ = rate(law_, 0) * drive_a_second;
    }
}

double HeadPath::drive_after(double progress) const {
    return pace_law_ ? drive_for(*pace_law_, std::min(pace_parked_mm_ + progress, pace_most_mm_)) - pace_parked_drive_
                     : drive_a_second_ * progress;
}

double HeadPath::drive_slope(double progress) const {
    return pace_law_ ? 1 / rate(*pace_law_, std::min(pace_parked_mm_ + progress, pace_most_mm_)) : drive_a_second_;
}

bool HeadPath::ends(double progress, double share) const {
    return !is_linear(law_) && parked_drive_ + share * drive_after(progress) >= most_drive_;
}

double HeadPath::rise_mm(double progress, double share) const {
    if (linear_) {
        return share * linear_slope_ * progress;
    }
    const double drive = parked_drive_ + share * drive_after(progress);
    if (is_linear(law_)) { // a screw that keeps pace with a scissor
        return share * drive_after(progress) * rate(law_, 0);
    }
    return (drive >= most_drive_ ? most_mm_ : evenclose::rise_mm(law_, drive)) - parked_mm_;
}

double HeadPath::slope(double progress, double share) const {
    if (linear_) {
        return share * linear_slope_;
    }
    return ends(progress, share) ? 0.0 : rate_at(rise_mm(progress, share)) * share * drive_slope(progress);
}

Interval HeadPath::slope_between(double from, double to, double share) const {
    if (linear_) {
        return {share * linear_slope_, share * linear_slope_};
    }
    const auto [rate_low, rate_high] = std::minmax({rate_at(rise_mm(from, share)), rate_at(rise_mm(to, share))});
    const auto [drive_low, drive_high] = std::minmax({drive_slope(from), drive_slope(to)});
    return {ends(to, share) ? 0.0 : rate_low * share * drive_low, rate_high * share * drive_high};
}

double HeadPath::apart_at_most_mm(double from, double to, double low_share, double high_share) const {
    if (linear_) {
        return (high_share - low_share) * linear_slope_ * to;
    }
    const double fastest = std::max(rate_at(rise_mm(from, low_share)), rate_at(rise_mm(to, high_share)));
    return (high_share - low_share) * drive_after(to) * fastest;
}

double HeadPath::progress_at(double rise_mm, double share) const {
    if (linear_) {
        return rise_mm / (share * linear_slope_);
    }
    const double drive = is_linear(law_) ? rise_mm / rate(law_, 0)
                                         : drive_for(law_, std::min(parked_mm_ + rise_mm, most_mm_)) - parked_drive_;
    if (pace_law_) {
        return evenclose::rise_mm(*pace_law_, pace_parked_drive_ + drive / share) - pace_parked_mm_;
    }
    return drive / (share * drive_a_second_);
}

double HeadPath::rate_at(double rise_mm) const {
    return is_linear(law_) ? rate(law_, 0) : rate(law_, std::clamp(parked_mm_ + rise_mm, 0.0, most_mm_));
}

double HeadPath::effort_at(double rise_mm, double load_N) const {
    return is_linear(law_) ? effort(law_, 0, load_N)
                           : effort(law_, std::clamp(parked_mm_ + rise_mm, 0.0, most_mm_), load_N);
}

} // namespace evenclose
