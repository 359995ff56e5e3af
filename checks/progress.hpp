// checks/progress.hpp: how a long check tells how far it is, and hears that it should stop.
//
// Threads: all members may be called from any thread. The fraction told never runs backward.
#pragma once

#include <atomic>

namespace evenclose {

class Progress {
public:
    Progress() = default;
    /// A part of a longer check: what is told to it is told to `whole` between `from` and `to`, and cancelling the whole
    /// cancels the part. `whole` must outlive it.
    Progress(Progress& whole, double from, double to) : whole_(&whole), from_(from), to_(to) {}

    void cancel() { cancelled_.store(true, std::memory_order_relaxed); }
    [[nodiscard]] bool cancelled() const {
        return cancelled_.load(std::memory_order_relaxed) || (whole_ != nullptr && whole_->cancelled());
    }

    /// 0 to 1; a lower value than was told before is ignored.
    void tell(double fraction) {
        double seen = fraction_.load(std::memory_order_relaxed);
        while (fraction > seen && !fraction_.compare_exchange_weak(seen, fraction, std::memory_order_relaxed)) {
        }
        if (whole_ != nullptr) {
            whole_->tell(from_ + fraction * (to_ - from_));
        }
    }
    [[nodiscard]] double fraction() const { return fraction_.load(std::memory_order_relaxed); }

private:
    std::atomic<bool> cancelled_{false};
    std::atomic<double> fraction_{0.0};
    Progress* whole_ = nullptr;
    double from_ = 0, to_ = 1;
};

} // namespace evenclose
