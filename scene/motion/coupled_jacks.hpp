// scene/motion/coupled_jacks.hpp: which jacks turn together, and how far a coupled one may be off the jack it follows.
//
// Unlinked: the screws of one motor turn together; a cylinder or hose runs by itself, and so does a jack without a drive
// of its own (as if it had one like the drive that its shaft leads to).
//
// Linked: all jacks that shafts lead to turn together. Off the first of them (the one with a drive), another may be
// - behind by the plays of the couplings on the way and the twist of the shafts, phi = T L / (G J), T the torque of all
//   jacks beyond a shaft at their rated load (or what the drives on this side can give, if that is less);
// - ahead by as much only where a drive beyond the shaft could push; and never by more than the drives run apart.
// The play is counted once a coupling and in full: where it stood when the jacks were levelled is not known.
#pragma once

#include "scene/motion/head_path.hpp"

#include <optional>
#include <string>
#include <vector>

namespace evenclose {

/// Jacks that run at one share of nominal, which is not known better than between low and high.
struct JackGroup {
    std::vector<std::size_t> jacks;
    Interval share;
    double nominal = 1;
};

/// One shaft on the way from the jack that leads to one that follows.
struct ShaftOnTheWay {
    double play_rad = 0;
    double twist_rad_a_Nmm = 0;
    std::vector<std::size_t> beyond, before; // jacks whose torque passes when the far side lags; when it leads
    std::optional<double> most_torque_Nmm_before, most_torque_Nmm_beyond; // what the drives on either side can give
};

struct Follower {
    std::size_t jack = 0, leader = 0;
    std::vector<ShaftOnTheWay> way;
    bool may_lead = false; // a drive stands beyond one of the shafts
    bool driven = false;   // has a drive of its own (or a rate): the drives can only run so far apart
};

struct CoupledJacks {
    std::vector<HeadPath> paths; // one a jack
    std::vector<JackGroup> groups;
    std::vector<Follower> followers; // linked only
    bool counts_seconds = false;     // progress: seconds; else the rise of a jack that keeps pace
};

/// Needs: a press whose jacks have no fault.   Threads: pure, any.
[[nodiscard]] CoupledJacks coupled_jacks(const Press& press, bool linked);

/// Why the shafts cannot be counted: the torque that twists them is not known. Empty if they can, or there are none.
[[nodiscard]] std::string link_unknown(const Press& press);

} // namespace evenclose
