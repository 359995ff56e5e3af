#include "scene/motion/modelled_heads.hpp"

#include <algorithm>
#include <cmath>

// What a piece of the stroke hides between two knots, bounded by how steep the heads' paths can be against each other.

namespace evenclose {
namespace {

// So many pieces between two knots are bounded one by one; the bounds' own slack shrinks with it.
constexpr int kPieces = 32;

// Keeps a division by 0 finite, no more.
constexpr double kStill = 1e-300;

Travel at_share(Travel from, Travel to, double share) { return {from.mm + share * (to.mm - from.mm)}; }

} // namespace

ModelledHeads::Trace ModelledHeads::trace(Travel from, Travel to, const Shares& shares) const {
    Trace trace;
    for (int i = 0; i <= kPieces; ++i) {
        trace.lifts_mm.push_back(lift_a_travel_ * at_share(from, to, static_cast<double>(i) / kPieces).mm);
        trace.progress.push_back(progress_for(trace.lifts_mm.back(), shares));
        std::vector<double> rises;
        for (std::size_t jack = 0; jack < shares.size(); ++jack) {
            rises.push_back(coupled_.paths[jack].rise_mm(trace.progress.back(), shares[jack]));
        }
        trace.rises_mm.push_back(std::move(rises));
    }
    return trace;
}

std::vector<Interval> ModelledHeads::rises_a_lift(const Trace& trace, std::size_t piece, const Shares& shares) const {
    std::vector<Interval> slopes;
    Interval middle;
    for (std::size_t i = 0; i < shares.size(); ++i) {
        slopes.push_back(coupled_.paths[i].slope_between(trace.progress[piece], trace.progress[piece + 1], shares[i]));
        middle.low += slopes.back().low / static_cast<double>(shares.size());
        middle.high += slopes.back().high / static_cast<double>(shares.size());
    }
    for (Interval& slope : slopes) { // where all have ended, middle.low is 0 and nothing is bounded
        slope = {slope.low / std::max(middle.high, kStill), slope.high / std::max(middle.low, kStill)};
    }
    return slopes;
}

double ModelledHeads::above(const Trace& trace, const Shares& shares, const std::vector<Interval>& lags,
                            double line_from, double line_to, int axis, bool greatest) const {
    const double sign = greatest ? 1 : -1;
    const double lift = trace.lifts_mm.back() - trace.lifts_mm.front();
    const double steepness = sign * (line_to - line_from) / lift;
    double most = 0;
    for (std::size_t piece = 0; piece < kPieces; ++piece) {
        const double goes = trace.lifts_mm[piece + 1] - trace.lifts_mm[piece];
        const double line = sign * line_from + steepness * (trace.lifts_mm[piece] - trace.lifts_mm.front());
        const std::vector<Interval> rises_a_lift_here = rises_a_lift(trace, piece, shares);
        Interval grows;
        double by_rises = std::max(0.0, -steepness) * goes;
        for (std::size_t i = 0; i < shares.size(); ++i) {
            const double weight = sign * weights_[axis][i]; // they add up to 0: what all rise alike does not count
            const Interval& rise = rises_a_lift_here[i];
            grows.low += std::min(weight * (rise.low - 1), weight * (rise.high - 1));
            grows.high += std::max(weight * (rise.low - 1), weight * (rise.high - 1));
            by_rises += std::max(0.0, weight) * (trace.rises_mm[piece + 1][i] - trace.rises_mm[piece][i]);
        }
        // By how steep the heads' paths are against each other, or by how far each rises in all: whichever is less.
        const double by_slopes = std::max(0.0, grows.high - steepness) * goes;
        // Lags move the platen's middle too: what is told of one height may belong to another that near.
        const double shifted = std::max(std::abs(grows.low), std::abs(grows.high)) * most_shift_mm_;
        const double above_line =
            sign * slope_of(trace.rises_mm[piece], axis) - line + std::min(by_slopes, by_rises) + shifted;
        most = std::max(most, above_line + (greatest ? lags[piece].high : -lags[piece].low));
    }
    return most;
}

BetweenKnots ModelledHeads::between(Travel from, Travel to, const SlopeRange& at_from, const SlopeRange& at_to) const {
    BetweenKnots result;
    if (all_linear_ && coupled_.followers.empty()) {
        return result; // straight lines all
    }
    result.off_chord_mm = off_chord_mm(from, to);
    std::vector<std::vector<Interval>> deviations;
    for (int piece = 0; piece < kPieces; ++piece) {
        deviations.push_back(deviations_between(at_share(from, to, static_cast<double>(piece) / kPieces),
                                                at_share(from, to, static_cast<double>(piece + 1) / kPieces)));
    }
    for (const int axis : {0, 1}) {
        std::vector<Interval> lags;
        for (const std::vector<Interval>& piece : deviations) {
            lags.push_back(reach(piece, axis));
        }
        double& low = axis == 0 ? result.outside.low.x : result.outside.low.y;
        double& high = axis == 0 ? result.outside.high.x : result.outside.high.y;
        const auto ends = [&](const SlopeRange& range, bool greatest) {
            const Slope& slope = greatest ? range.high : range.low;
            return axis == 0 ? slope.x : slope.y;
        };
        for (const Shares& shares : fast_[axis]) {
            high = std::max(
                high, above(trace(from, to, shares), shares, lags, ends(at_from, true), ends(at_to, true), axis, true));
        }
        for (const Shares& shares : slow_[axis]) {
            low = std::min(low, -above(trace(from, to, shares), shares, lags, ends(at_from, false), ends(at_to, false),
                                       axis, false));
        }
    }
    return result;
}

double ModelledHeads::off_chord_mm(Travel from, Travel to) const {
    if (all_linear_) {
        return 0;
    }
    const Trace path = trace(from, to, nominal_);
    const double lift = path.lifts_mm.back() - path.lifts_mm.front();
    double most = 0;
    for (std::size_t piece = 0; piece < kPieces; ++piece) {
        const std::vector<Interval> slopes = rises_a_lift(path, piece, nominal_);
        const double gone = path.lifts_mm[piece] - path.lifts_mm.front();
        const double goes = path.lifts_mm[piece + 1] - path.lifts_mm[piece];
        for (std::size_t jack = 0; jack < nominal_.size(); ++jack) {
            const double first = path.rises_mm.front()[jack];
            const double steepness = (path.rises_mm.back()[jack] - first) / lift;
            const double off = std::abs(path.rises_mm[piece][jack] - first - steepness * gone);
            const double gained = path.rises_mm[piece + 1][jack] - path.rises_mm[piece][jack];
            const double more = std::min((slopes[jack].high - steepness) * goes, gained);
            most = std::max(most, off + std::max(more, (steepness - slopes[jack].low) * goes));
        }
    }
    return most;
}

} // namespace evenclose
