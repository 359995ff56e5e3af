// viewer/app/apply.hpp: what an intent does to the state, all in one place.
#pragma once

#include "viewer/app/app.hpp"

#include <variant>
#include <vector>

namespace evenclose {

/// What the window has to see to in the world outside, in order.
struct StartJob {
    Generation generation = 0;
    std::string file;
};
struct StopJob {};
using Order = std::variant<StartJob, StopJob>;

/// Intents that make no sense now (a finding that is not there, a travel without a press, news for an older set-up) do
/// nothing. Threads: the one that owns `app`.
std::vector<Order> apply(App& app, const Intent& intent);

} // namespace evenclose
