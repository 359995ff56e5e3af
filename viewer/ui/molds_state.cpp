#include "viewer/ui/molds_state.hpp"

#include "checks/phrase.hpp"

#include <nlohmann/json.hpp>

namespace evenclose {

void tell_molds(const App& app, nlohmann::json& state) {
    const Molds& molds = app.molds;
    nlohmann::json& told = state["molds_folder"];
    told = {
        {"folder", molds.folder.string()}, {"listed", molds.listed},        {"fault", molds.listing->fault},
        {"looks_on", molds.looks_on()},    {"fits_run", molds.fits_run},    {"fitted", molds.fitted},
        {"to_fit", molds.to_fit},          {"stopped", molds.fits_stopped}, {"in_sight", molds.in_sight->get().size()}};
    told["comparing"] = molds.comparing ? nlohmann::json(molds.comparing->name) : nlohmann::json(nullptr);
    told["molds"] = nlohmann::json::array();
    for (const ListedMold& mold : molds.listing->molds) {
        const auto look = molds.store->look(mold);
        const auto fit = molds.store->fit(mold, molds.press);
        const bool faulty = look && !look->faults.empty();
        told["molds"].push_back({{"file", mold.file.filename().string()},
                                 {"name", mold.name},
                                 {"drawn", look && look->picture},
                                 {"fault", faulty ? look->faults.front().sentence() : ""},
                                 {"verdict", fit && fit->faults.empty() ? name_of(fit->verdict) : ""},
                                 {"says", fit && fit->first ? shown(fit->first->title, app.units) : ""}});
    }
}

} // namespace evenclose
