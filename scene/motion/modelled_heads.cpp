#include "scene/motion/modelled_heads.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <numeric>

namespace evenclose {
namespace {

double mean(const std::vector<double>& values) {
    return std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
}

} // namespace

ModelledHeads::ModelledHeads(const Press& press, bool linked, const LevelPlane& open)
    : coupled_(coupled_jacks(press, linked)), open_slope_{open.slope.x, open.slope.y}, nominal_(press.jacks.size()) {
    for (std::size_t i = 0; i < press.jacks.size(); ++i) {
        weights_[0].push_back(open.slope_a_mm_head[i].x);
        weights_[1].push_back(open.slope_a_mm_head[i].y);
        rated_load_N_.push_back(press.jacks[i].rated_load_N);
        knows_effort_.push_back(knows_effort(press.jacks[i]));
        all_linear_ = all_linear_ && coupled_.paths[i].linear();
    }
    for (const JackGroup& group : coupled_.groups) {
        for (const std::size_t jack : group.jacks) {
            nominal_[jack] = group.nominal;
        }
    }
    for (const int axis : {0, 1}) {
        fast_[axis] = cuts(axis, true);
        slow_[axis] = cuts(axis, false);
    }
    if (all_linear_ && !coupled_.counts_seconds) {
        std::vector<double> slopes;
        for (std::size_t i = 0; i < nominal_.size(); ++i) {
            slopes.push_back(coupled_.paths[i].slope(0, nominal_[i]));
        }
        lift_a_travel_ = mean(slopes);
    }

    double first = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < press.jacks.size(); ++i) {
        const Jack& jack = press.jacks[i];
        const double ends = coupled_.paths[i].progress_at(jack.stroke_mm - jack.parked_mm, nominal_[i]);
        if (ends < first) {
            first = ends;
            first_to_end_ = i;
        }
    }
    std::vector<double> at_end;
    for (std::size_t i = 0; i < press.jacks.size(); ++i) {
        at_end.push_back(coupled_.paths[i].rise_mm(first, nominal_[i]));
    }
    end_ = {all_linear_ && !coupled_.counts_seconds ? first : mean(at_end)};

    if (!coupled_.followers.empty() && end_.mm > 0) {
        for (const Interval& off : deviations_between({0}, end_)) {
            most_shift_mm_ += std::max(-off.low, off.high) / static_cast<double>(press.jacks.size());
        }
    }
}

double ModelledHeads::progress_for(double lift_mm, const Shares& shares) const {
    const auto count = static_cast<double>(shares.size());
    const auto lifted = [&](double progress) {
        double sum = 0;
        for (std::size_t i = 0; i < shares.size(); ++i) {
            sum += coupled_.paths[i].rise_mm(progress, shares[i]) / count;
        }
        return sum;
    };
    const auto slope = [&](double progress) {
        double sum = 0;
        for (std::size_t i = 0; i < shares.size(); ++i) {
            sum += coupled_.paths[i].slope(progress, shares[i]) / count;
        }
        return sum;
    };
    double progress = lift_mm / slope(0);
    if (all_linear_) {
        return progress;
    }
    // Newton within a bracket: the lift only grows with progress.
    double low = std::min(0.0, progress);
    double high = std::max(1e-9, std::abs(progress));
    for (int doubling = 0; doubling < 60 && lifted(high) < lift_mm; ++doubling) {
        low = high;
        high *= 2;
    }
    progress = std::clamp(progress, low, high);
    for (int step = 0; step < 200 && high - low > 1e-13 * high; ++step) {
        const double off = lifted(progress) - lift_mm;
        (off > 0 ? high : low) = progress;
        const double next = progress - off / slope(progress);
        const double bounded = next > low && next < high ? next : 0.5 * (low + high);
        if (std::abs(bounded - progress) <= 1e-15 * std::abs(progress)) {
            break;
        }
        progress = bounded;
    }
    return progress;
}

std::vector<double> ModelledHeads::rises_mm(double lift_mm, const Shares& shares) const {
    const double progress = progress_for(lift_mm, shares);
    std::vector<double> rises;
    for (std::size_t i = 0; i < shares.size(); ++i) {
        rises.push_back(coupled_.paths[i].rise_mm(progress, shares[i]));
    }
    return rises;
}

std::vector<double> ModelledHeads::rises_mm(Travel at) const { return rises_mm(lift_a_travel_ * at.mm, nominal_); }

std::optional<double> ModelledHeads::seconds(Travel at) const {
    return coupled_.counts_seconds ? std::optional(progress_for(lift_a_travel_ * at.mm, nominal_)) : std::nullopt;
}

double ModelledHeads::slope_of(const std::vector<double>& rises_mm, int axis) const {
    const double middle = mean(rises_mm); // the weights add up to 0 but for rounding
    double sum = open_slope_[axis];
    for (std::size_t i = 0; i < rises_mm.size(); ++i) {
        sum += weights_[axis][i] * (rises_mm[i] - middle);
    }
    return sum;
}

double ModelledHeads::slope(double lift_mm, const Shares& shares, int axis) const {
    return slope_of(rises_mm(lift_mm, shares), axis);
}

std::vector<ModelledHeads::Shares> ModelledHeads::cuts(int axis, bool greatest) const {
    const std::vector<JackGroup>& groups = coupled_.groups;
    if (groups.size() == 1) { // all turn together: at a given height of the middle nothing is left open
        return {nominal_};
    }
    std::vector<std::size_t> order(groups.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    const auto weight = [&](std::size_t group) {
        double sum = 0;
        for (const std::size_t jack : groups[group].jacks) {
            sum += weights_[axis][jack] / static_cast<double>(groups[group].jacks.size());
        }
        return greatest ? sum : -sum;
    };
    std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return weight(a) > weight(b); });
    std::vector<Shares> result;
    for (std::size_t fast = 1; fast < groups.size(); ++fast) {
        Shares shares(nominal_.size());
        for (std::size_t k = 0; k < order.size(); ++k) {
            for (const std::size_t jack : groups[order[k]].jacks) {
                shares[jack] = k < fast ? groups[order[k]].share.high : groups[order[k]].share.low;
            }
        }
        result.push_back(std::move(shares));
    }
    return result;
}

double ModelledHeads::lag_mm(const Follower& follower, const std::vector<double>& rises_mm, bool ahead) const {
    // Torque and rate are asked where the lagging head is, not where it should be: lower, where a scissor pulls harder.
    // Ahead: at the nominal place, which for the same reason is never too little.
    double lag = 0;
    for (int round = 0; round < 4; ++round) {
        double angle = 0;
        for (const ShaftOnTheWay& shaft : follower.way) {
            const std::vector<std::size_t>& driven = ahead ? shaft.before : shaft.beyond;
            const std::optional<double>& limit = ahead ? shaft.most_torque_Nmm_beyond : shaft.most_torque_Nmm_before;
            double torque = 0;
            bool known = true;
            for (const std::size_t jack : driven) {
                known = known && knows_effort_[jack];
                if (known) {
                    torque += coupled_.paths[jack].effort_at(rises_mm[jack] - lag, rated_load_N_[jack]);
                }
            }
            torque = !known ? limit.value_or(0) : limit ? std::min(torque, *limit) : torque;
            angle += shaft.play_rad + shaft.twist_rad_a_Nmm * torque;
        }
        const double at_rise = ahead ? rises_mm[follower.jack] : rises_mm[follower.jack] - lag;
        lag = coupled_.paths[follower.jack].rate_at(at_rise) * angle / (2 * std::numbers::pi);
    }
    return lag;
}

double ModelledHeads::drives_apart_mm(const Follower& follower, double from, double to) const {
    if (!follower.driven) {
        return std::numeric_limits<double>::infinity(); // nothing but the shaft holds it
    }
    const auto group = std::find_if(coupled_.groups.begin(), coupled_.groups.end(), [&](const JackGroup& g) {
        return std::find(g.jacks.begin(), g.jacks.end(), follower.jack) != g.jacks.end();
    });
    return coupled_.paths[follower.jack].apart_at_most_mm(from, to, group->share.low, group->share.high);
}

std::vector<Interval> ModelledHeads::deviations_mm(Travel at) const {
    std::vector<Interval> deviations(nominal_.size());
    if (coupled_.followers.empty()) {
        return deviations;
    }
    const double progress = progress_for(lift_a_travel_ * at.mm, nominal_);
    const std::vector<double> rises = rises_mm(at);
    for (const Follower& follower : coupled_.followers) {
        const double apart = drives_apart_mm(follower, progress, progress);
        deviations[follower.jack] = {-std::min(lag_mm(follower, rises, false), apart),
                                     follower.may_lead ? std::min(lag_mm(follower, rises, true), apart) : 0.0};
    }
    return deviations;
}

/// Rates and torques are monotone along the stroke, and so is how far drives run apart: each is greatest at one end.
std::vector<Interval> ModelledHeads::deviations_between(Travel from, Travel to) const {
    std::vector<Interval> deviations(nominal_.size());
    if (coupled_.followers.empty()) {
        return deviations;
    }
    const Travel lower{std::max(0.0, from.mm - most_shift_mm_)};
    const Travel upper{std::min(std::max(end_.mm, to.mm), to.mm + most_shift_mm_)};
    const std::vector<double> rises[] = {rises_mm(lower), rises_mm(upper)};
    const double progress[] = {progress_for(lift_a_travel_ * lower.mm, nominal_),
                               progress_for(lift_a_travel_ * upper.mm, nominal_)};
    for (const Follower& follower : coupled_.followers) {
        const double apart = drives_apart_mm(follower, progress[0], progress[1]);
        const double behind = std::max(lag_mm(follower, rises[0], false), lag_mm(follower, rises[1], false));
        const double ahead = std::max(lag_mm(follower, rises[0], true), lag_mm(follower, rises[1], true));
        deviations[follower.jack] = {-std::min(behind, apart), follower.may_lead ? std::min(ahead, apart) : 0.0};
    }
    return deviations;
}

Interval ModelledHeads::reach(const std::vector<Interval>& deviations, int axis) const {
    Interval reach;
    for (std::size_t i = 0; i < deviations.size(); ++i) {
        const double weight = weights_[axis][i];
        reach.low += std::min(weight * deviations[i].low, weight * deviations[i].high);
        reach.high += std::max(weight * deviations[i].low, weight * deviations[i].high);
    }
    return reach;
}

SlopeRange ModelledHeads::slope_range(Travel at) const {
    const double lift = lift_a_travel_ * at.mm;
    const std::vector<Interval> deviations = deviations_mm(at);
    const auto end = [&](int axis, bool greatest) {
        double extreme = greatest ? -std::numeric_limits<double>::infinity() : std::numeric_limits<double>::infinity();
        for (const Shares& shares : greatest ? fast_[axis] : slow_[axis]) {
            const double here = slope(lift, shares, axis);
            extreme = greatest ? std::max(extreme, here) : std::min(extreme, here);
        }
        const Interval lag = reach(deviations, axis);
        return extreme + (greatest ? lag.high : lag.low);
    };
    return {{end(0, false), end(1, false)}, {end(0, true), end(1, true)}};
}

std::vector<Travel> ModelledHeads::kinks() const {
    std::vector<Travel> kinks;
    for (const Follower& follower : coupled_.followers) {
        if (!follower.driven || !(end_.mm > 0)) {
            continue;
        }
        for (const bool ahead : {false, true}) {
            const auto drives_decide = [&](double travel) {
                const double progress = progress_for(lift_a_travel_ * travel, nominal_);
                return drives_apart_mm(follower, progress, progress) <
                       lag_mm(follower, rises_mm(Travel{travel}), ahead);
            };
            double low = 0;
            double high = end_.mm;
            if (drives_decide(high)) {
                continue;
            }
            while (high - low > 1e-9 * end_.mm) {
                const double half = 0.5 * (low + high);
                (drives_decide(half) ? low : high) = half;
            }
            kinks.push_back({high});
        }
    }
    return kinks;
}

} // namespace evenclose
