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
    bool with_parts = false;
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
struct StartMoldLooks {
    std::uint64_t number = 0;
    std::filesystem::path folder;
    MoldPictureWish wish;
    MoldListing before;                                // what was seen there the last time
    std::map<std::filesystem::path, FileStamps> known; // whose pictures are as wished
    std::shared_ptr<MoldsInSight> in_sight;
}; // answered by MoldsListed and MoldLooked, until EndMoldLooks
struct EndMoldLooks {};
struct StartMoldFits {
    std::uint64_t number = 0;
    std::shared_ptr<const Setup> like;
    std::string press; // its press_key()
    std::vector<ListedMold> molds;
    std::shared_ptr<MoldsInSight> in_sight;
}; // answered by MoldFitted and MoldFitsEnded
struct EndMoldFits {};
struct StartComparison {
    std::uint64_t number = 0;
    std::string file;
    DocumentTexts texts; // with the other mold in its opening
    ComparedMold other;  // but for its results
};                       // answered by MoldCompared
struct EndComparison {};
struct KeepSettings {
    Settings settings;
};
struct ToClipboard {
    std::string text;
};
struct AskDesktop {
    std::uint64_t number = 0;
    FileQuestion question = FileQuestion::open;
}; // answered by DialogAnswered; given up when its sheet is left
struct TakeFile {
    FileQuestion question = FileQuestion::open;
    std::filesystem::path file;
}; // that a person chose in answer
/// See Intent for why it is a class.
struct Order
    : std::variant<StartJob, StopJob, WriteDocuments, WriteAs, WriteNewPress, ForgetWork, StartPlan, EndPlan, WritePlan,
                   StartReport, MakeFilm, StopFilmJob, StartMoldLooks, EndMoldLooks, StartMoldFits, EndMoldFits,
                   StartComparison, EndComparison, KeepSettings, ToClipboard, AskDesktop, TakeFile> {
    using variant::variant;
    Order();
    Order(const Order&);
    Order(Order&&) noexcept;
    Order& operator=(const Order&);
    Order& operator=(Order&&) noexcept;
    ~Order();
};

/// Intents that make no sense now (a finding that is not there, a travel without a press, news for an older set-up) do
/// nothing. Threads: the one that owns `app`.
std::vector<Order> apply(App& app, const Intent& intent);

/// The part of it that edits, saves and recovers: apply_edit.cpp.
std::vector<Order> apply_edit(App& app, const EditIntent& intent);
/// What happens to the plan: apply_plan.cpp.
std::vector<Order> apply_plan(App& app, const PlanIntent& intent);
/// A plan that is there or being made belongs to a set-up that is no longer this one.
std::vector<Order> forget_plan(App& app);
/// What happens to the folder of molds: apply_molds.cpp.
std::vector<Order> apply_molds(App& app, const MoldsIntent& intent);
/// Its sheet was opened.
std::vector<Order> open_molds(App& app);
/// The folder that it shows: the one that was chosen, else that of the mold in the chosen opening.
[[nodiscard]] std::filesystem::path molds_folder(const App& app);
/// A set-up was read: what the press before said of molds does not hold for another one.
std::vector<Order> molds_of_press_read(App& app);
/// Work for a sheet that was on screen before and is no longer.
std::vector<Order> sheet_left(App& app, Sheet before);
/// The part of it that looks closely: apply_closely.cpp.
std::vector<Order> apply_closely(App& app, const CloselyIntent& intent);
/// Which file is meant: apply_file_question.cpp.
std::vector<Order> apply_file_question(App& app, const FileQuestionIntent& intent);
/// After the press was read anew: what is no longer there is forgotten.   Needs: an assembly.
void look_again(App& app);
/// Reads the documents as they stand in memory and checks them, the press staying on screen meanwhile.
std::vector<Order> read_again(App& app);
/// The same with what is on the disk, but for what is edited and not saved.
std::vector<Order> read_from_disk(App& app);

} // namespace evenclose
