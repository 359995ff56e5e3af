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
    constexpr const char* kMeasure[] = {"off", "points", "faces"};
    const auto words = measure_words(app);
    const auto value = measure_value(app);
    state["measure"] = {{"what", kMeasure[static_cast<std::size_t>(closely.measuring.what)]},
                        {"places", closely.measuring.places.size()},
                        {"value", value ? nlohmann::json(*value) : nlohmann::json(nullptr)},
                        {"words", words ? words->value : ""},
                        {"note", words ? words->note : ""}};
    state["labels"] = closely.labels;
    state["film"] = closely.film ? nlohmann::json(closely.film->file) : nlohmann::json(nullptr);
    state["menu"] = closely.menu ? nlohmann::json(closely.menu->body) : nlohmann::json(nullptr);
}

} // namespace evenclose
