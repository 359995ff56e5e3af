#include "checks/report/json_report.hpp"

#include "checks/report/json_of_finding.hpp"

namespace evenclose {
namespace {

Json json_of(const LevelCurve& curve) {
    Json json;
    json["source"] = name_of(curve.source);
    json["counts"] = curve.counts;
    json["points"] = Json::array();
    for (const LevelPoint& point : curve.points) {
        json["points"].push_back(
            {{"travel_mm", point.at.mm},
             {"slope_x", {point.range.low.x, point.nominal.x, point.range.high.x}},
             {"slope_y", {point.range.low.y, point.nominal.y, point.range.high.y}},
             {"over_deck_mm", {point.low_over_deck_mm, point.nominal_over_deck_mm, point.high_over_deck_mm}}});
    }
    return json;
}

const char* what_holds(Holding holding) {
    switch (holding) {
    case Holding::thread_holds:
        return "thread";
    case Holding::collar_holds:
        return "collar";
    case Holding::runs_down:
        return "nothing";
    }
    return "";
}

Json json_of(const JackRun& run) {
    Json json;
    json["jack"] = run.jack;
    json["kind"] = run.kind;
    json["drive"] = run.pumped ? "cm3" : "turns";
    json["holds"] = run.pumped ? "valve" : what_holds(run.holding);
    json["rated_load_N"] = run.rated_load_N;
    json["points"] = Json::array();
    for (const JackPoint& point : run.points) {
        json["points"].push_back({{"travel_mm", point.at.mm},
                                  {"out_mm", point.out_mm},
                                  {"rate_mm", point.rate},
                                  {run.pumped ? "pressure_MPa" : "torque_Nmm", point.effort}});
    }
    return json;
}

} // namespace

std::string json_report(const Setup& setup, const CheckResults& results, const std::vector<std::string>& notes) {
    Json json;
    json["format"] = "evenclose-findings-1";
    json["setup"] = {{"name", setup.name}, {"press", setup.press->name}, {"mold", setup.openings.front().mold->name}};
    if (setup.openings.size() > 1) {
        for (const Opening& opening : setup.openings) {
            json["setup"]["molds"].push_back(opening.mold->name);
        }
    }
    json["verdict"] = name_of(worst_of(results.findings));
    json["complete"] = !results.cancelled;
    json["findings"] = Json::array();
    for (const Finding& finding : results.findings) {
        json["findings"].push_back(json_of(finding));
    }
    if (!results.level.empty()) {
        json["level_curves"] = Json::array();
        for (const LevelCurve& curve : results.level) {
            json["level_curves"].push_back(json_of(curve));
        }
    }
    if (!results.jacks.empty()) {
        json["jack_curves"] = Json::array();
        for (const JackRun& run : results.jacks) {
            json["jack_curves"].push_back(json_of(run));
        }
    }
    json["notes"] = notes;
    return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

} // namespace evenclose
