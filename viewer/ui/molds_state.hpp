// viewer/ui/molds_state.hpp: what the state file tells of the folder of molds.
#pragma once

#include "viewer/app/app.hpp"

#include <nlohmann/json_fwd.hpp>

namespace evenclose {

/// Adds its key to the state.
void tell_molds(const App& app, nlohmann::json& state);

} // namespace evenclose
