#include "viewer/app/work_keeper.hpp"

#include "viewer/app/app.hpp"
#include "viewer/app/recent_setups.hpp"
#include "viewer/app/save_documents.hpp"
#include "viewer/app/state_folder.hpp"
#include "viewer/desktop/file_dialog.hpp"

#include <algorithm>
#include <utility>

namespace evenclose {

namespace fs = std::filesystem;

namespace {

// So often it is looked whether another window has opened the same documents.
constexpr double kOthers_s = 4.0;

} // namespace

WorkKeeper::WorkKeeper() : folder_(state_folder()), recovery_(folder_), kept_at_(Clock::now()) {}

WorkKeeper::~WorkKeeper() {
    if (keeping_.valid()) {
        keeping_.wait();
    }
}

void WorkKeeper::end() {
    if (keeping_.valid()) {
        keeping_.wait();
    }
    recovery_.end();
}

SessionRead WorkKeeper::read_session() const {
    return {recent_setups(folder_), recovery_.left_behind(), read_settings(folder_), desktop_theme(),
            file_dialog_thinkable()};
}

std::optional<EditIntent> WorkKeeper::carry_out(const Order& order) {
    if (const auto* write = std::get_if<WriteDocuments>(&order)) {
        if (!write->beside_others) {
            std::vector<fs::path> files;
            for (const auto& [file, text] : write->documents.unsaved_texts()) {
                files.push_back(file);
            }
            std::vector<fs::path> elsewhere = recovery_.open_elsewhere(files);
            if (!elsewhere.empty()) {
                return Saved{{}, {}, {}, std::move(elsewhere)};
            }
        }
        SaveOutcome outcome = save_documents(write->documents, write->over_changes);
        return Saved{std::move(outcome.written), std::move(outcome.changed_on_disk), std::move(outcome.faults), {}};
    }
    if (const auto* write = std::get_if<WriteAs>(&order)) {
        auto outcome = save_as(write->documents, write->file, write->with_parts);
        if (auto* faults = std::get_if<std::vector<std::string>>(&outcome)) {
            return Saved{{}, {}, std::move(*faults), {}};
        }
        return SavedAs{std::move(std::get<EditedDocuments>(outcome))};
    }
    if (const auto* make = std::get_if<WriteNewPress>(&order)) {
        auto made = write_new_press(make->wanted.answers, make->wanted.folder, make->wanted.stem);
        if (const auto* file = std::get_if<fs::path>(&made)) {
            return PressMade{file->string(), {}};
        }
        return PressMade{{}, std::get<std::string>(made)};
    }
    if (const auto* keep = std::get_if<KeepSettings>(&order)) {
        keep_settings(folder_, keep->settings);
    }
    if (const auto* forget = std::get_if<ForgetWork>(&order)) {
        recovery_.discard(forget->left);
    }
    return {};
}

double WorkKeeper::due_s(const EditedDocuments& documents) const {
    if (documents.unsaved_texts() == kept_) {
        return 60.0;
    }
    const double gone = std::chrono::duration<double>(Clock::now() - kept_at_).count();
    return std::max(kAutosave_s - gone, 0.05);
}

void WorkKeeper::keep(const EditedDocuments& documents) {
    kept_ = documents.unsaved_texts();
    kept_at_ = Clock::now();
    KeptWork work{documents.setup, kept_, {}};
    for (const auto& [file, text] : kept_) {
        const auto saved = documents.saved.find(file);
        if (saved != documents.saved.end()) {
            work.saved.insert(*saved);
        }
    }
    keeping_ = std::async(std::launch::async, [this, work = std::move(work)] { return recovery_.keep(work); });
}

void WorkKeeper::keep_at_once(const EditedDocuments& documents) noexcept {
    try {
        if (keeping_.valid()) {
            keeping_.wait();
        }
        if (documents.unsaved_texts() != kept_) {
            keep(documents);
            keeping_.wait();
        }
    } catch (...) { // NOLINT(bugprone-empty-catch): there is nobody left to tell; what was kept before is there
    }
}

std::vector<EditIntent> WorkKeeper::look_after(const App& app) {
    std::vector<EditIntent> news;
    if (keeping_.valid() && keeping_.wait_for(std::chrono::seconds(0)) == std::future_status::ready) {
        const auto fault = keeping_.get();
        if (fault && !std::exchange(fault_told_, true)) { // once: the disk may stay full for hours
            news.emplace_back(WorkNotKept{*fault});
        }
    }
    const bool changed = app.documents.unsaved_texts() != kept_;
    const bool due = std::chrono::duration<double>(Clock::now() - kept_at_).count() >= kAutosave_s;
    // What was saved need not wait: nothing should be offered that is on the disk.
    if (changed && !keeping_.valid() && (due || !app.documents.unsaved())) {
        keep(app.documents);
    }

    std::vector<fs::path> open;
    for (const auto& [file, text] : app.documents.texts) {
        open.push_back(file);
    }
    const bool others = open != open_;
    if (others) {
        open_ = open;
        recovery_.says_open(open);
    }
    // The other window may have come later.
    if (others || std::chrono::duration<double>(Clock::now() - asked_at_).count() >= kOthers_s) {
        asked_at_ = Clock::now();
        std::vector<fs::path> elsewhere = recovery_.open_elsewhere(open);
        if (elsewhere != elsewhere_ && !elsewhere.empty()) {
            news.emplace_back(DocumentsShared{{}, elsewhere});
        }
        elsewhere_ = std::move(elsewhere);
    }
    const std::size_t steps = app.documents.done.size();
    if (steps > std::exchange(steps_seen_, steps)) {
        std::vector<fs::path> disk = changed_on_disk(app.documents);
        if (!disk.empty()) {
            news.emplace_back(DocumentsShared{std::move(disk), {}});
        }
    }
    if (app.setup && app.file != remembered_) {
        remembered_ = app.file;
        remember_setup(folder_, app.file);
    }
    return news;
}

} // namespace evenclose
