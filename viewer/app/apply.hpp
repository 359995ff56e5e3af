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
    DocumentTexts texts = {}; // in place of files
};
struct StopJob {};
struct WriteDocuments {
    EditedDocuments documents;
    bool over_changes = false;
    bool beside_others = false; // also where another window has them open
};                              // answered by Saved
struct WriteAs {
    EditedDocuments documents;
    std::string file;
}; // answered by SavedAs, or by Saved with faults
struct WriteNewPress {
    MakePress wanted;
}; // answered by PressMade
struct ForgetWork {
    LeftBehind left;
};
struct StartPlan {
    std::uint64_t number = 0;
    std::shared_ptr<const PlanRequest> request;
}; // answered by PlanMade or PlanFailed
struct EndPlan {};
struct StartReport {
    std::string file;
    std::shared_ptr<const Setup> setup;
    std::shared_ptr<const Assembly> assembly;
    std::shared_ptr<const CheckResults> results;
    std::vector<std::string> notes;
    UnitSystem units = UnitSystem::metric;
}; // answered by ReportWritten
struct WritePlan {
    std::shared_ptr<const PlanRequest> request;
    std::shared_ptr<const Plan> plan;
    std::size_t way = 0; // that is opened then
    std::filesystem::path folder;
}; // answered by PlanWritten or PlanNotWritten
struct MakeFilm {
    FilmWanted wanted;
}; // answered by FilmEnded
struct StopFilmJob {};
struct KeepSettings {
    Settings settings;
};
struct ToClipboard {
    std::string text;
};
using Order = std::variant<StartJob, StopJob, WriteDocuments, WriteAs, WriteNewPress, ForgetWork, StartPlan, EndPlan,
                           WritePlan, StartReport, MakeFilm, StopFilmJob, KeepSettings, ToClipboard>;

/// Intents that make no sense now (a finding that is not there, a travel without a press, news for an older set-up) do
/// nothing. Threads: the one that owns `app`.
std::vector<Order> apply(App& app, const Intent& intent);

/// The part of it that edits, saves and recovers: apply_edit.cpp.
std::vector<Order> apply_edit(App& app, const EditIntent& intent);
/// What happens to the plan: apply_plan.cpp.
std::vector<Order> apply_plan(App& app, const PlanIntent& intent);
/// A plan that is there or being made belongs to a set-up that is no longer this one.
std::vector<Order> forget_plan(App& app);
/// The part of it that looks closely: apply_closely.cpp.
std::vector<Order> apply_closely(App& app, const CloselyIntent& intent);
/// After the press was read anew: what is no longer there is forgotten.   Needs: an assembly.
void look_again(App& app);
/// Reads the documents as they stand in memory and checks them, the press staying on screen meanwhile.
std::vector<Order> read_again(App& app);
/// The same with what is on the disk, but for what is edited and not saved.
std::vector<Order> read_from_disk(App& app);

} // namespace evenclose
