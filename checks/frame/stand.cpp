#include "checks/frame/stand.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>

namespace evenclose {

StoodFrame stand(PressFrame model, const std::vector<bool>& start) {
    // A linear problem a round; presses settle within ten (tried on the demo), and a loop must end.
    constexpr int kMostRounds = 30;
    // What stands open keeps this share of its stiffness, so that nothing falls.
    constexpr double kOpenShare = 1e-6;
    StoodFrame stood;
    stood.open = start.size() == model.contacts.size() ? start : std::vector<bool>(model.contacts.size(), false);
    const SpaceFrame whole = model.frame;
    LoadCase load;
    load.actions = model.jack_actions;
    for (stood.rounds = 1; stood.rounds <= kMostRounds; ++stood.rounds) {
        for (std::size_t c = 0; c < model.contacts.size(); ++c) {
            const std::size_t s = model.contacts[c].spring;
            for (std::size_t d = 0; d < 6; ++d) {
                model.frame.springs[s].stiffness[d] =
                    whole.springs[s].stiffness[d] * (stood.open[c] ? kOpenShare : 1.0);
            }
        }
        FrameSolution solution = solve(model.frame, {load});
        stood.state = std::move(solution.states.front());
        stood.mechanisms.clear();
        std::copy_if(solution.mechanisms.begin(), solution.mechanisms.end(), std::back_inserter(stood.mechanisms),
                     [](const Mechanism& mechanism) { return mechanism.loaded; });
        bool changed = false;
        for (std::size_t c = 0; c < model.contacts.size(); ++c) {
            const bool pulls = stood.state.spring_forces[model.contacts[c].spring][0] > 0;
            if (model.contacts[c].pushes_only && pulls != stood.open[c]) {
                stood.open[c] = pulls;
                changed = true;
            }
        }
        if (!changed) {
            stood.settled = true;
            break;
        }
    }
    // An open contact that takes a share of the load by its last millionth holds what nothing else does.
    constexpr double kShareOfLoad = 0.01;
    double applied = 0;
    for (const NodeAction& action : model.jack_actions) {
        applied += std::abs(action.action.force_N.z);
    }
    for (std::size_t c = 0; c < model.contacts.size(); ++c) {
        if (stood.open[c] &&
            std::abs(stood.state.spring_forces[model.contacts[c].spring][0]) > kShareOfLoad * applied) {
            stood.let_go.push_back(c);
        }
    }
    stood.model = std::move(model);
    return stood;
}

} // namespace evenclose
