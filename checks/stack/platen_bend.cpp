#include "checks/stack/platen_bend.hpp"

#include <algorithm>
#include <vector>

namespace evenclose {
namespace {

// Simpson-like accuracy by small cells: the error of a kinked load goes with the square of the cell, here 1e-6 of it.
constexpr int kCells = 4000;

/// Line load of a force spread over a length, its resultant at `acts_at_mm`: level, or leaning.
double line_load(const PressedLength& on, double force_N, double acts_at_mm, double at_mm) {
    if (at_mm < on.from_mm || at_mm > on.to_mm) {
        return 0;
    }
    const double length = on.length_mm();
    const double lean = 12 * force_N * (acts_at_mm - on.middle_mm()) / (length * length * length);
    return force_N / length + lean * (at_mm - on.middle_mm());
}

} // namespace

double free_beam_bend_mm(const PressedLength& below, const PressedLength& above, double force_N, double EI_Nmm2) {
    const double from = std::min(below.from_mm, above.from_mm);
    const double to = std::max(below.to_mm, above.to_mm);
    const double cell = (to - from) / kCells;
    // Shear, moment, slope and deflection, cell by cell; the load is taken at a cell's middle and is straight in it.
    double shear = 0;
    double moment = 0;
    double slope = 0;
    double rise = 0;
    std::vector<double> rises{0.0};
    for (int i = 0; i < kCells; ++i) {
        const double at = from + (i + 0.5) * cell;
        const double load = line_load(below, force_N, above.middle_mm(), at) -
                            line_load(above, force_N, above.middle_mm(), at); // upward
        // Exact for an even load over the cell: EI w'''' = load, moment = EI w''.
        rise += slope * cell +
                (0.5 * moment * cell * cell + shear * cell * cell * cell / 6 + load * cell * cell * cell * cell / 24) /
                    EI_Nmm2;
        slope += (moment * cell + 0.5 * shear * cell * cell + load * cell * cell * cell / 6) / EI_Nmm2;
        moment += shear * cell + 0.5 * load * cell * cell;
        shear += load * cell;
        rises.push_back(rise);
    }
    // Off the best straight line.
    double mean = 0;
    double turn = 0;
    double lever = 0;
    for (const double each : rises) {
        mean += each / static_cast<double>(rises.size());
    }
    for (int i = 0; i <= kCells; ++i) {
        const double x = i - 0.5 * kCells;
        turn += x * (rises[static_cast<std::size_t>(i)] - mean);
        lever += x * x;
    }
    double low = 0;
    double high = 0;
    for (int i = 0; i <= kCells; ++i) {
        const double off = rises[static_cast<std::size_t>(i)] - mean - turn / lever * (i - 0.5 * kCells);
        low = i == 0 ? off : std::min(low, off);
        high = i == 0 ? off : std::max(high, off);
    }
    return high - low;
}

} // namespace evenclose
