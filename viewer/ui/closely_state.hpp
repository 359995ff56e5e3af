// viewer/ui/closely_state.hpp: what the state file tells of how closely the press is looked at.
#pragma once

#include "viewer/app/app.hpp"

#include <nlohmann/json_fwd.hpp>

namespace evenclose {

/// Adds its keys to the state.
void tell_closely(const App& app, nlohmann::json& state);

} // namespace evenclose
