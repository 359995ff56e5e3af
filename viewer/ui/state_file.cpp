#include "viewer/ui/state_file.hpp"

#include "viewer/app/plan_scatter.hpp"
#include "viewer/ui/closely_state.hpp"
#include "viewer/ui/molds_state.hpp"

#include <nlohmann/json.hpp>

#include <cstdio>
#include <cstdlib>
#include <fstream>

namespace evenclose {
namespace {

const char* name_of_stage(Stage stage) {
    switch (stage) {
    case Stage::empty:
        return "empty";
    case Stage::reading:
        return "reading";
    case Stage::faulty:
        return "faulty";
    case Stage::checking:
        return "checking";
    case Stage::checked:
        return "checked";
    case Stage::stopped:
        return "stopped";
    case Stage::failed:
        return "failed";
    }
    return "";
}

const char* name_of_sheet(Sheet sheet) {
    switch (sheet) {
    case Sheet::none:
        return "none";
    case Sheet::keys:
        return "keys";
    case Sheet::cautions:
        return "cautions";
    case Sheet::open:
        return "open";
    case Sheet::week:
        return "week";
    case Sheet::plan:
        return "plan";
    case Sheet::unsaved:
        return "unsaved";
    case Sheet::left_behind:
        return "left behind";
    case Sheet::changed:
        return "changed";
    case Sheet::save_as:
        return "save as";
    case Sheet::report:
        return "report";
    case Sheet::which_half:
        return "which half";
    case Sheet::compare:
        return "compare";
    case Sheet::molds:
        return "molds";
    case Sheet::new_press:
        return "new press";
    case Sheet::film:
        return "film";
    case Sheet::search:
        return "search";
    case Sheet::shared:
        return "shared";
    case Sheet::guide:
        return "guide";
    case Sheet::asking:
        return "asking";
    }
    return "";
}

template <class T> nlohmann::json or_null(const std::optional<T>& value) {
    return value ? nlohmann::json(*value) : nlohmann::json(nullptr);
}

nlohmann::json xyz(const Vec3& v) { return {v.x, v.y, v.z}; }

nlohmann::json state_of(const App& app, const Places& places, const WindowCounts& counts) {
    nlohmann::json state;
    state["stage"] = name_of_stage(app.stage);
    state["file"] = app.file;
    state["setup"] = app.setup ? app.setup->name : "";
    state["verdict"] = app.verdict() ? nlohmann::json(name_of(*app.verdict())) : nlohmann::json(nullptr);
    state["findings"] = app.results ? app.results->findings.size() : 0;
    state["pairs"] = app.results ? app.results->profiles.size() : 0;
    state["faults"] = app.faults;
    state["unsaved"] = app.documents.unsaved();
    state["undo"] = app.documents.done.empty() ? "" : app.documents.done.back().label;
    state["redo"] = app.documents.undone.empty() ? "" : app.documents.undone.back().label;
    state["fields"] = app.fields.file.filename().string();
    state["field"] = or_null(app.fields.field);
    state["sought"] = app.fields.sought;
    state["notice"] = app.notice;
    state["not_whole"] = app.not_whole;
    state["conflicts"] = nlohmann::json::array();
    for (const auto& [file, text] : app.conflicts) {
        state["conflicts"].push_back(file.filename().string());
    }
    state["compared"] = app.compared ? app.compared->name : "";
    state["molds"] = nlohmann::json::array();
    for (const Opening& opening : app.setup ? app.setup->openings : std::vector<Opening>{}) {
        state["molds"].push_back(opening.mold ? opening.mold->name : "");
    }
    state["triangles"] = 0; // of the molds
    for (const Body& body : app.assembly ? app.assembly->bodies : std::vector<Body>{}) {
        if (body.mesh && (body.part == Part::mold_lower || body.part == Part::mold_upper)) {
            state["triangles"] = state["triangles"].get<std::size_t>() + body.mesh->triangles.size();
        }
    }
    state["left_behind"] = app.session.left_behind.size();
    state["recent"] = app.session.recent;
    state["notes"] = app.notes;
    state["travel_mm"] = app.travel.mm;
    state["last_mm"] = app.last().mm;
    state["chosen_finding"] = or_null(app.finding);
    state["chosen_pair"] = or_null(app.pair);
    state["chosen_part"] = or_null(app.part);
    state["lit"] = app.shown ? nlohmann::json(app.shown->bodies) : nlohmann::json::array();
    state["playing"] = app.playing.on;
    state["speed"] = app.playing.times;
    state["loading_in"] = nullptr;
    if (app.loading_in) {
        state["loading_in"] = {{"step", app.loading_in->step},
                               {"steps", app.loading_in->path->steps.size()},
                               {"gone_mm", app.loading_in->gone_mm},
                               {"distance_mm", app.loading_in->path->distance_mm},
                               {"on", app.loading_in->on}};
    }
    state["opening"] = app.opening;
    state["openings"] = nlohmann::json::array();
    for (std::size_t i = 0; app.assembly && i < app.assembly->openings.size(); ++i) {
        state["openings"].push_back(name_of(app.assembly->state_of(i, app.travel)));
    }
    constexpr const char* kSeeing[] = {"press", "gap", "curvature", "cut", "pressure"};
    state["seeing"] = kSeeing[static_cast<std::size_t>(app.seeing)];
    state["tilt_magnified"] = app.tilt_magnified;
    state["bent"] = shown_bent(app) != nullptr;
    state["plan"] = nullptr;
    if (app.planning.plan) {
        state["plan"] = {{"ways", app.planning.plan->offered.size()},
                         {"chosen", or_null(app.planning.chosen)},
                         {"against", words_of(app.planning.against)}};
    }
    state["units"] = app.units == UnitSystem::metric ? "metric" : "inch";
    state["view"] = app.view;
    state["theme"] = app.theme() == Theme::dark ? "dark" : "light";
    state["copied"] = app.copied;
    state["sheet"] = name_of_sheet(app.sheet);
    state["camera"] = {{"eye_mm", xyz(app.camera.eye_mm)},
                       {"target_mm", xyz(app.camera.target_mm)},
                       {"vertical_angle_rad", app.camera.vertical_angle_rad},
                       {"parallel", app.camera.parallel}};
    tell_closely(app, state);
    tell_molds(app, state);
    state["flying"] = app.flight.has_value();
    state["width"] = counts.width;
    state["height"] = counts.height;
    state["scale"] = counts.scale;
    state["settled"] = counts.settled;
    state["gl_fault"] = counts.gl_fault;
    state["contexts"] = counts.contexts;
    state["pictures"] = counts.pictures;
    state["cut"] = places.cut;
    state["unprintable"] = places.unprintable;
    for (const auto& [name, rect] : places.rects) {
        state["places"][name] = {rect.x, rect.y, rect.width, rect.height};
    }
    return state;
}

} // namespace

std::string state_json(const App& app, const Places& places, const WindowCounts& counts) {
    return state_of(app, places, counts).dump(1, ' ', false, nlohmann::json::error_handler_t::replace);
}

StateFile::StateFile() {
    if (const char* file = std::getenv("EVENCLOSE_STATE")) {
        file_ = file;
    }
}

void StateFile::write_if_changed(const App& app, const Places& places, const WindowCounts& counts) {
    if (file_.empty()) {
        return;
    }
    nlohmann::json state = state_of(app, places, counts);
    std::string plain =
        state.dump(-1, ' ', false, nlohmann::json::error_handler_t::replace); // a file name need not be UTF-8
    if (plain == written_) {
        return;
    }
    written_ = std::move(plain);
    state["frames"] = counts.frames;
    state["longest_gap_ms"] = counts.longest_gap_ms;
    state["longest_gap_checking_ms"] = counts.longest_gap_checking_ms;
    state["serial"] = ++serial_;
    const std::string fresh = file_ + ".new";
    {
        std::ofstream out(fresh);
        out << state.dump(1, ' ', false, nlohmann::json::error_handler_t::replace) << '\n';
    }
    std::rename(fresh.c_str(), file_.c_str());
}

} // namespace evenclose
