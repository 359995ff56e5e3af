#include "scene/motion/coupled_jacks.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <stdexcept>

namespace evenclose {
namespace {

constexpr std::size_t kNone = static_cast<std::size_t>(-1);

bool is_pumped(const Jack& jack) {
    return std::holds_alternative<CylinderJack>(jack.kind) || std::holds_alternative<HoseJack>(jack.kind);
}

/// What is asked of a press again and again: who drives what, and which shafts meet where.
class Couplings {
public:
    explicit Couplings(const Press& press) : press_(press), drive_(press.jacks.size(), kNone) {
        for (std::size_t d = 0; d < press.drives.size(); ++d) {
            for (const std::size_t jack : press.drives[d].jacks) {
                drive_.at(jack) = d;
            }
        }
    }

    /// Without any drives in the document every jack is turned by itself.
    [[nodiscard]] bool driven(std::size_t jack) const { return press_.drives.empty() || drive_[jack] != kNone; }
    [[nodiscard]] std::size_t drive_of(std::size_t jack) const { return drive_[jack]; }

    /// All jacks that shafts, or motors that turn several, lead to from `start`, without passing the shaft `closed`
    /// (kNone: all are open).
    [[nodiscard]] std::vector<std::size_t> reached_from(std::size_t start, std::size_t closed = kNone) const {
        std::vector<std::size_t> reached{start};
        const auto reach = [&](std::size_t jack) {
            if (std::find(reached.begin(), reached.end(), jack) == reached.end()) {
                reached.push_back(jack);
            }
        };
        for (std::size_t i = 0; i < reached.size(); ++i) {
            const std::size_t drive = drive_[reached[i]];
            if (drive != kNone && !is_pumped(press_.jacks[reached[i]])) {
                std::for_each(press_.drives[drive].jacks.begin(), press_.drives[drive].jacks.end(), reach);
            }
            for (std::size_t s = 0; s < press_.link_shafts.size(); ++s) {
                const ShaftLink& link = press_.link_shafts[s];
                const std::size_t other = link.from == reached[i] ? link.to : link.to == reached[i] ? link.from : kNone;
                if (s != closed && other != kNone) {
                    reach(other);
                }
            }
        }
        return reached;
    }

    /// Shafts from `leader` to `jack`, in order; shafts make a tree, so there is one way.
    [[nodiscard]] std::vector<std::size_t> way_to(std::size_t leader, std::size_t jack) const {
        std::vector<std::size_t> way;
        for (std::size_t s = 0; s < press_.link_shafts.size(); ++s) {
            const std::vector<std::size_t> side = reached_from(leader, s);
            if (std::find(side.begin(), side.end(), jack) == side.end()) {
                way.push_back(s);
            }
        }
        return way;
    }

    /// Torque at the screws that the drives of these jacks can give; none if one of them does not say.
    [[nodiscard]] std::optional<double> most_torque_Nmm(const std::vector<std::size_t>& jacks) const {
        double sum = 0;
        std::vector<std::size_t> counted;
        for (const std::size_t jack : jacks) {
            const std::size_t d = drive_[jack];
            if (d == kNone || std::find(counted.begin(), counted.end(), d) != counted.end()) {
                if (press_.drives.empty()) {
                    return std::nullopt;
                }
                continue;
            }
            const Drive& drive = press_.drives[d];
            if (!drive.limit) {
                return std::nullopt;
            }
            sum += *drive.limit * drive.gear_ratio;
            counted.push_back(d);
        }
        return sum;
    }

private:
    const Press& press_;
    std::vector<std::size_t> drive_; // of each jack
};

Interval shares_of(const Press& press, std::size_t jack, std::size_t drive) {
    if (press.drives.empty()) {
        const Jack& j = press.jacks[jack];
        return {j.rate - j.rate_tolerance, j.rate + j.rate_tolerance};
    }
    const double off = press.drives[drive].tolerance;
    return {1 - off, 1 + off};
}

HeadPath path_of(const Press& press, std::size_t jack, std::size_t leader, std::size_t drive) {
    if (press.drives.empty()) {
        return {press.jacks[jack], press.jacks[leader]};
    }
    return {press.jacks[jack], press.drives[drive].drive_a_second(is_pumped(press.jacks[jack]))};
}

ShaftOnTheWay on_the_way(const Press& press, const Couplings& couplings, std::size_t leader, std::size_t shaft) {
    const ShaftLink& link = press.link_shafts[shaft];
    ShaftOnTheWay on;
    on.play_rad = play_rad(link.shaft);
    on.twist_rad_a_Nmm = twist_rad(link.shaft, 1.0);
    on.before = couplings.reached_from(leader, shaft);
    const bool from_is_before = std::find(on.before.begin(), on.before.end(), link.from) != on.before.end();
    on.beyond = couplings.reached_from(from_is_before ? link.to : link.from, shaft);
    on.most_torque_Nmm_before = couplings.most_torque_Nmm(on.before);
    on.most_torque_Nmm_beyond = couplings.most_torque_Nmm(on.beyond);
    return on;
}

} // namespace

CoupledJacks coupled_jacks(const Press& press, bool linked) {
    const Couplings couplings(press);
    CoupledJacks result;
    result.counts_seconds = !press.drives.empty();
    std::vector<bool> done(press.jacks.size(), false);
    std::vector<std::optional<HeadPath>> paths(press.jacks.size());

    for (std::size_t first = 0; first < press.jacks.size(); ++first) {
        if (done[first]) {
            continue;
        }
        const std::vector<std::size_t> together = couplings.reached_from(first);
        const auto leader_at =
            std::find_if(together.begin(), together.end(), [&](std::size_t jack) { return couplings.driven(jack); });
        if (leader_at == together.end()) {
            throw std::invalid_argument(
                fmt::format("\"{}\": no drive turns it, and no link shaft leads to one", press.jacks[first].name));
        }
        const std::size_t leader = *leader_at;
        const auto drive_for = [&](std::size_t jack) {
            return couplings.drive_of(jack) == kNone ? couplings.drive_of(leader) : couplings.drive_of(jack);
        };
        JackGroup all{together, shares_of(press, leader, drive_for(leader)), 0};
        for (const std::size_t jack : together) {
            done[jack] = true;
            paths[jack] = path_of(press, jack, linked ? leader : jack, drive_for(linked ? leader : jack));
            const Interval share = shares_of(press, jack, drive_for(jack));
            all.share = {std::min(all.share.low, share.low), std::max(all.share.high, share.high)};
            all.nominal += (press.drives.empty() ? press.jacks[jack].rate : 1.0) / static_cast<double>(together.size());
        }
        if (linked) {
            result.groups.push_back(all);
            for (const std::size_t jack : together) {
                if (jack == leader) {
                    continue;
                }
                Follower follower{jack, leader, {}, false, couplings.driven(jack)};
                for (const std::size_t shaft : couplings.way_to(leader, jack)) {
                    follower.way.push_back(on_the_way(press, couplings, leader, shaft));
                    for (const std::size_t beyond : follower.way.back().beyond) {
                        follower.may_lead = follower.may_lead || couplings.driven(beyond);
                    }
                }
                result.followers.push_back(std::move(follower));
            }
            continue;
        }
        for (const std::size_t jack : together) { // each by itself, but for those that one motor turns
            const std::size_t drive = couplings.drive_of(jack);
            const double nominal = press.drives.empty() ? press.jacks[jack].rate : 1.0;
            if (drive == kNone || is_pumped(press.jacks[jack])) {
                result.groups.push_back({{jack}, shares_of(press, jack, drive_for(jack)), nominal});
            } else if (press.drives[drive].jacks.front() == jack) {
                result.groups.push_back({press.drives[drive].jacks, shares_of(press, jack, drive), nominal});
            }
        }
    }
    for (std::optional<HeadPath>& path : paths) {
        result.paths.push_back(std::move(*path));
    }
    return result;
}

std::string link_unknown(const Press& press) {
    const Couplings couplings(press);
    for (const ShaftLink& link : press.link_shafts) {
        const std::vector<std::size_t> together = couplings.reached_from(link.from);
        const auto silent = std::find_if(together.begin(), together.end(),
                                         [&](std::size_t jack) { return !knows_effort(press.jacks[jack]); });
        if (silent != together.end() && !couplings.most_torque_Nmm(together)) {
            return fmt::format("The torque that twists {} is not known: neither the thread friction of {} nor the "
                               "torque limit of its drive is given.",
                               link.name, press.jacks[*silent].name);
        }
    }
    return {};
}

} // namespace evenclose
