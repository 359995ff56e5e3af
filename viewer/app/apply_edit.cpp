#include "scene/documents/document_text.hpp"
#include "viewer/app/apply.hpp"
#include "viewer/app/document_rows.hpp"
#include "viewer/app/open_documents.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

namespace evenclose {
namespace {

namespace fs = std::filesystem;

using Orders = std::vector<Order>;

void say(App& app, std::string words, bool bad = false) {
    app.notice = std::move(words);
    app.notice_bad = bad;
}

std::string names_of(const std::vector<fs::path>& files) {
    std::string names;
    for (const fs::path& file : files) {
        names += (names.empty() ? "" : ", ") + file.filename().string();
    }
    return names;
}

std::string names_of(const DocumentTexts& texts) {
    std::vector<fs::path> files;
    for (const auto& [file, text] : texts) {
        files.push_back(file);
    }
    return names_of(files);
}

struct Edited {
    App& app;

    Orders operator()(const EditDocuments& intent) const {
        if (intent.edits.empty()) {
            return {};
        }
        const std::size_t before = app.documents.done.size();
        std::string label = intent.label.empty() ? label_of(app.documents, intent.edits.back()) : intent.label;
        if (auto fault = edit(app.documents, intent.edits, std::move(label))) {
            say(app, std::move(*fault), true);
            return {};
        }
        if (app.documents.done.size() == before) {
            return {};
        }
        say(app, "");
        return read_again(app);
    }
    Orders operator()(const Undo&) const {
        app.fields.field.reset();
        if (!undo(app.documents)) {
            say(app, "Nothing to undo");
            return {};
        }
        say(app, "Undone: " + app.documents.undone.back().label);
        return read_again(app);
    }
    Orders operator()(const Redo&) const {
        app.fields.field.reset();
        if (!redo(app.documents)) {
            say(app, "Nothing to do again");
            return {};
        }
        say(app, "Done again: " + app.documents.done.back().label);
        return read_again(app);
    }
    Orders operator()(const Save& intent) const {
        if (app.documents.texts.empty()) {
            return {};
        }
        if (!app.documents.unsaved()) {
            say(app, "Nothing to save");
            return {};
        }
        app.session.beside_others = app.session.beside_others || intent.beside_others;
        return {WriteDocuments{app.documents, intent.over_changes, app.session.beside_others}};
    }
    Orders operator()(const SaveAs& intent) const {
        if (app.documents.texts.empty() || intent.file.empty()) {
            return {};
        }
        app.sheet = Sheet::none;
        return {WriteAs{app.documents, intent.file, intent.with_parts}};
    }
    Orders operator()(const ShowFields& intent) const {
        app.fields.field.reset();
        app.fields.file = app.documents.texts.contains(intent.file) ? intent.file : fs::path{};
        if (!intent.place.empty()) {
            app.fields.sought.clear();
            for (std::size_t at = intent.place.find_first_of(".["); at != std::string::npos;
                 at = intent.place.find_first_of(".[", at + 1)) {
                app.fields.unfolded.insert(intent.place.substr(0, at));
            }
            if (!app.fields.file.empty()) {
                app.fields.field = intent.place;
            }
        } else if (intent.search && !app.fields.file.empty()) {
            app.fields.field = std::string();
        }
        return {};
    }
    Orders operator()(const StepField& intent) const {
        app.fields.step = app.fields.file.empty() ? 0 : intent.by;
        return {};
    }
    Orders operator()(const TypeInto& intent) const {
        app.fields.step = 0;
        app.fields.field = app.fields.file.empty() ? std::nullopt : intent.place;
        return {};
    }
    Orders operator()(const FindFields& intent) const {
        app.fields.sought = intent.words;
        return {};
    }
    Orders operator()(const FoldGroup& intent) const {
        if (!app.fields.unfolded.insert(intent.place).second) {
            app.fields.unfolded.erase(intent.place);
        }
        return {};
    }
    Orders operator()(const LeaveUnsaved& answer) const {
        if (!app.leaves) {
            return {};
        }
        app.sheet = Sheet::none;
        if (answer.how == LeaveUnsaved::How::stay) {
            app.leaves.reset();
            return {};
        }
        if (answer.how == LeaveUnsaved::How::save) {
            return {WriteDocuments{app.documents, false, app.session.beside_others}}; // and goes on when it is saved
        }
        app.documents = {};
        return leave();
    }
    Orders operator()(const TakeUpWork& intent) const {
        if (intent.index >= app.session.left_behind.size()) {
            return {};
        }
        const LeftBehind left = app.session.left_behind[intent.index];
        app.session.left_behind.erase(app.session.left_behind.begin() + static_cast<long>(intent.index));
        app.sheet = Sheet::none;
        Orders orders = apply(app, OpenSetup{left.work.setup.string()});
        if (orders.empty()) { // unsaved work here comes first
            app.session.left_behind.push_back(left);
            return orders;
        }
        app.documents.setup = left.work.setup;
        app.documents.texts = left.work.texts;
        app.documents.saved = left.work.saved;
        std::get<StartJob>(orders.front()).texts = left.work.texts;
        say(app, "Unsaved work is back; it is not saved yet");
        orders.emplace_back(ForgetWork{left});
        return orders;
    }
    Orders operator()(const DiscardWork& intent) const {
        if (intent.index >= app.session.left_behind.size()) {
            return {};
        }
        Orders orders{ForgetWork{app.session.left_behind[intent.index]}};
        app.session.left_behind.erase(app.session.left_behind.begin() + static_cast<long>(intent.index));
        if (app.session.left_behind.empty() && app.sheet == Sheet::left_behind) {
            app.sheet = Sheet::none;
        }
        return orders;
    }
    Orders operator()(const SwapMold& intent) const {
        const fs::path mold = document_id(intent.file);
        if (app.setup && app.results && intent.opening < app.setup->openings.size()) {
            const Opening& there = app.setup->openings[intent.opening];
            const fs::path before = document_id(app.documents.setup.parent_path() / there.mold_file);
            if (before == mold) {
                say(app, "That mold is in the press already");
                return {};
            }
            app.compared = ComparedMold{intent.opening, before,
                                        there.mold ? there.mold->name : before.filename().string(), app.results};
        }
        return (*this)(
            EditDocuments{{mold_in_opening(app.documents, intent.opening, mold)}, "mold: " + mold.filename().string()});
    }
    Orders operator()(const DropMesh& intent) const {
        if (!lowest_mold().empty()) {
            app.dropped_mesh = intent.file;
            app.sheet = Sheet::which_half;
        }
        return {};
    }
    Orders operator()(const MeshForHalf& intent) const {
        const fs::path mold = lowest_mold();
        const auto text = app.documents.texts.find(mold);
        app.sheet = Sheet::none;
        if (text == app.documents.texts.end() || app.dropped_mesh.empty()) {
            return {};
        }
        const fs::path mesh = document_id(app.dropped_mesh);
        const fs::path relative = mesh.lexically_relative(mold.parent_path());
        const std::vector<DocumentRow> rows = rows_of(DocumentKind::mold, *text->second);
        const auto row = std::find_if(rows.begin(), rows.end(),
                                      [&](const DocumentRow& r) { return r.place == intent.half + ".mesh"; });
        if (row == rows.end()) {
            return {};
        }
        return (*this)(EditDocuments{edits_for(*row, 0, relative.empty() ? mesh.string() : relative.string(), mold),
                                     intent.half + " half: " + mesh.filename().string()});
    }
    Orders operator()(const ToggleMold&) const {
        if (!app.compared) {
            say(app, "Swap the mold first: Ctrl M shows others");
            return {};
        }
        const ComparedMold other = *app.compared;
        return (*this)(SwapMold{other.opening, other.file.string()});
    }
    Orders operator()(const MoveMold& intent) const {
        if (!app.setup || intent.opening >= app.setup->openings.size()) {
            return {};
        }
        if (!intent.end) {
            app.moving_mold = intent;
            return {};
        }
        const Vec2 stood = app.setup->openings[intent.opening].at_mm;
        if (stood.x == intent.x_mm && stood.y == intent.y_mm) {
            app.moving_mold.reset();
            return {};
        }
        app.moving_mold = intent; // it stays where the hand let go until it is read
        const auto tidy = [](double mm) { return json_number(std::round(mm * 100.0) / 100.0 + 0.0); };
        return (*this)(EditDocuments{
            {{app.documents.setup, DocumentEdit::What::set, fmt::format("openings[{}].at", intent.opening),
              fmt::format("[{}, {}]", in_unit(tidy(intent.x_mm)), in_unit(tidy(intent.y_mm)))}},
            fmt::format("mold moved to {}, {} mm", tidy(intent.x_mm), tidy(intent.y_mm))});
    }
    Orders operator()(const MakePress& intent) const { return {WriteNewPress{intent}}; }
    Orders operator()(const PressMade& news) const {
        if (news.file.empty()) {
            say(app, news.fault, true);
            return {};
        }
        say(app, "");
        app.sheet = Sheet::none;
        return apply(app, OpenSetup{news.file});
    }
    Orders operator()(const DismissNotice&) const {
        say(app, "");
        return {};
    }
    Orders operator()(const Saved& news) const {
        note_saved(app.documents, news.written);
        for (const auto& [file, text] : news.written) {
            app.conflicts.erase(file);
        }
        if (!news.open_elsewhere.empty()) {
            say(app, fmt::format("Not saved: {} is open in another window too", names_of(news.open_elsewhere)), true);
            app.sheet = Sheet::shared;
        } else if (!news.faults.empty()) {
            say(app, "Not saved: " + news.faults.front(), true);
        } else if (!news.changed_on_disk.empty()) {
            say(app, fmt::format("Not saved: {} changed on the disk since it was read", names_of(news.changed_on_disk)),
                true);
            app.sheet = Sheet::changed;
        } else {
            const bool faulty = app.stage == Stage::faulty;
            say(app, fmt::format("Saved: {}{}", names_of(news.written), faulty ? ", with a fault to mend" : ""));
        }
        if (app.leaves && !app.documents.unsaved()) {
            return leave();
        }
        app.leaves.reset();
        return {};
    }
    Orders operator()(const SavedAs& news) const {
        app.documents = news.documents;
        app.conflicts.clear();
        app.file = news.documents.setup.string();
        app.fields.field.reset();
        if (!app.documents.texts.contains(app.fields.file)) {
            app.fields.file = app.fields.file.empty() ? fs::path{} : app.documents.setup;
            app.fields.sought.clear(); // was sought in a document that is no longer open
        }
        say(app, "Saved: " + names_of(news.documents.texts));
        return read_again(app);
    }
    Orders operator()(const SessionRead& news) const {
        app.session.recent = news.recent;
        app.session.left_behind = news.left_behind;
        app.session.settings = news.settings;
        app.session.desktop = news.desktop;
        app.asking.offered = news.dialogs_thinkable;
        if (!app.session.left_behind.empty() && app.sheet == Sheet::none) {
            app.sheet = Sheet::left_behind;
        }
        return {};
    }
    Orders operator()(const DocumentsShared& news) const {
        if (!news.changed_on_disk.empty()) {
            say(app,
                fmt::format("{} changed on the disk while it is edited here; saving will ask",
                            names_of(news.changed_on_disk)),
                true);
        } else if (!news.open_elsewhere.empty()) {
            say(app,
                fmt::format("{} is open in another window too; look as you like, saving will ask",
                            names_of(news.open_elsewhere)),
                true);
        }
        return {};
    }
    Orders operator()(const FilesChanged& news) const {
        if (app.stage == Stage::empty) {
            return {};
        }
        std::vector<fs::path> changed;
        for (const ChangedFile& file : news.files) {
            const fs::path id = document_id(file.file);
            const auto saved = app.documents.saved.find(id);
            if (app.not_whole.empty() && file.document && file.text && saved != app.documents.saved.end() &&
                *saved->second == *file.text) {
                continue; // saved here
            }
            if (!file.document || !app.documents.unsaved(id)) {
                changed.push_back(file.file);
            } else if (file.text && *file.text == *app.documents.texts.at(id)) {
                note_saved(app.documents, {{id, file.text}}); // the very same was written there
                app.conflicts.erase(id);
            } else {
                app.conflicts[id] = file.text;
            }
        }
        if (changed.empty()) {
            return {};
        }
        app.taking_up = names_of(changed);
        return read_from_disk(app);
    }
    Orders operator()(const AnswerConflict& answer) const {
        const auto conflict = app.conflicts.find(answer.file);
        if (conflict == app.conflicts.end()) {
            return {};
        }
        const SharedText theirs = conflict->second;
        app.conflicts.erase(conflict);
        const std::string name = answer.file.filename().string();
        if (!theirs) {
            say(app, name + " stays as it is here, not saved yet");
            return {};
        }
        app.fields.field.reset();
        if (!answer.take_theirs) {
            note_saved(app.documents, {{answer.file, theirs}});
            say(app, name + " stays as it is here; saving writes it over the one on the disk");
            return {};
        }
        take_theirs(app.documents, answer.file, theirs, name + " as it is on the disk");
        say(app, name + " is as it is on the disk; undo brings yours back");
        return read_again(app);
    }
    Orders operator()(const WorkNotKept& news) const {
        say(app, "Unsaved work cannot be kept beside: " + news.why, true);
        return {};
    }

private:
    /// The document of the lowest opening's mold; empty if there is none.
    [[nodiscard]] fs::path lowest_mold() const {
        for (const OpenDocument& open : open_documents(app.documents)) {
            if (open.kind == DocumentKind::mold) {
                return open.file;
            }
        }
        return {};
    }
    /// A length in mm as the set-up may hold it, whatever its bare numbers are.
    [[nodiscard]] std::string in_unit(const std::string& mm) const {
        auto parsed = DocumentText::parse(*app.documents.texts.at(app.documents.setup), "");
        const auto* setup = std::get_if<DocumentText>(&parsed);
        const auto unit = setup != nullptr ? setup->typed_at("unit") : std::nullopt;
        return !unit || *unit == "\"mm\"" ? mm : json_text(mm + " mm");
    }
    [[nodiscard]] Orders leave() const {
        const auto wanted = std::exchange(app.leaves, std::nullopt);
        return std::visit([this](const auto& intent) { return apply(app, intent); }, *wanted);
    }
};

} // namespace

std::vector<Order> apply_edit(App& app, const EditIntent& intent) { return std::visit(Edited{app}, intent); }

} // namespace evenclose
