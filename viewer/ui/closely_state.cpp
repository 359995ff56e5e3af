#include "viewer/ui/closely_state.hpp"

#include <nlohmann/json.hpp>

namespace evenclose {

void tell_closely(const App& app, nlohmann::json& state) {
    const Closely& closely = app.closely;
    state["section"] = nullptr;
    if (closely.section) {
        state["section"] = {{"axis", name_of(closely.section->axis)},
                            {"at_mm", closely.section->at_mm},
                            {"flipped", closely.section->flipped}};
    }
    state["hidden"] = closely.sight.hidden;
    state["seen_through"] = closely.sight.ghosts;
    state["picked"] = closely.picked;
    state["menu"] = closely.menu ? nlohmann::json(closely.menu->body) : nlohmann::json(nullptr);
}

} // namespace evenclose
