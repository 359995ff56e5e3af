// viewer/app/order.hpp: what the window has to see to in the world outside, as plain data: files, jobs, the clipboard, the desktop.
// viewer/app/apply.hpp makes orders; the window carries them out and answers with intents.
#pragma once

#include "scene/documents/document_texts.hpp"
#include "scene/units/units.hpp"
#include "viewer/app/comparison.hpp"
#include "viewer/app/edited_documents.hpp"
#include "viewer/app/intent.hpp"
#include "viewer/app/recovery.hpp"
#include "viewer/app/settings.hpp"

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <map>
#include <memory>
#include <string>
#include <variant>
#include <vector>

namespace evenclose {

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
/// One of these. See Intent for why it is a class.
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

} // namespace evenclose
