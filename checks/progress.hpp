// checks/progress.hpp: how a long check tells how far it is, and hears that it should stop.
//
// Threads: all members may be called from any thread. The fraction told never runs backward.
#pragma once

#include <atomic>

namespace evenclose {

class Progress {
public:
    void cancel() { cancelled_.store(true, std::memory_order_relaxed); }
    [[nodiscard]] bool cancelled() const { return cancelled_.load(std::memory_order_relaxed); }

    /// 0 to 1; a lower value than was told before is ignored.
    void tell(double fraction) {
        double seen = fraction_.load(std::memory_order_relaxed);
        while (fraction > seen && !fraction_.compare_exchange_weak(seen, fraction, std::memory_order_relaxed)) {
        }
    }
    [[nodiscard]] double fraction() const { return fraction_.load(std::memory_order_relaxed); }

private:
    std::atomic<bool> cancelled_{false};
    std::atomic<double> fraction_{0.0};
};

} // namespace evenclose
