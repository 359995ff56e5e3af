#include "viewer/ui/asked_files.hpp"

#include "viewer/app/dropped_file.hpp"
#include "viewer/report/write_report.hpp"

#include <algorithm>
#include <string>
#include <system_error>

namespace evenclose {
namespace {

namespace fs = std::filesystem;

/// A name whose ending is one that `takes`, else with `ending` behind it.
FileNameWanted named_with(const char* id, std::string ending, std::string example, bool (*takes)(const fs::path&)) {
    FileNameWanted wanted;
    wanted.id = id;
    wanted.completed = [ending = std::move(ending), takes](fs::path file) {
        if (!file.filename().empty() && !takes(file)) {
            file += ending;
        }
        return file;
    };
    wanted.fault = [example = std::move(example)](const fs::path& file) {
        std::error_code ignored;
        return file.filename().empty() || fs::is_directory(file, ignored) ? "Give the file a name, such as " + example
                                                                          : std::string();
    };
    return wanted;
}

fs::path proposed_or(const App& app, fs::path usual) { return app.proposed.empty() ? std::move(usual) : app.proposed; }

/// The folder that the open set-up is in, else the one that the program was started in.
fs::path folder_of(const App& app) {
    std::error_code ignored;
    return app.file.empty() ? fs::current_path(ignored) : fs::absolute(app.file, ignored).parent_path();
}

bool ends_as_document(const fs::path& file) { return file.extension() == ".json"; }

} // namespace

FileNameAsked asked_to_save_as(const App& app) {
    FileNameAsked asked{"Save the set-up under another name",
                        "The press and the mold stay shared with every set-up that names them, so that what is changed "
                        "in them later is "
                        "changed for all; those that hold changes now are written beside it as its own. Or it gets a "
                        "press and a mold of "
                        "its own right away. What you opened stays as it is on the disk.",
                        proposed_or(app, app.documents.setup),
                        named_with("save_as", ".set-up.json", "oak.set-up.json", ends_as_document)};
    asked.wanted.other_key = "Save with its own press and mold";
    asked.wanted.over = [itself = app.documents.setup](const fs::path& file) { return document_id(file) == itself; };
    return asked;
}

FileNameAsked asked_for_report(const App& app) {
    std::string stem = fs::path(app.file).filename().string();
    stem.resize(std::min(stem.find(".set-up"), stem.size()));
    FileNameAsked asked{
        "Make the report",
        "One page with the verdict, pictures, curves, every finding with its remedy and the numbers it stands on. A "
        "name that ends in .html is for a browser, one in .pdf for paper (A4).",
        proposed_or(app, app.documents.setup.parent_path() / (stem + ".html")),
        named_with("report", ".html", "oak.html or oak.pdf", ends_as_report)};
    asked.wanted.key = "Make it";
    return asked;
}

FileDialogAsked dialog_for(const App& app, FileQuestion question) {
    if (question == FileQuestion::open) {
        return {false,
                "Open a set-up",
                folder_of(app),
                {},
                {{"Set-ups", {"*.set-up.json"}},
                 {"Presses, molds and set-ups", {"*.json"}},
                 {"Meshes for a mold's half",
                  {"*.[sS][tT][lL]", "*.[oO][bB][jJ]", "*.3[mM][fF]", "*.[pP][lL][yY]", "*.[oO][fF][fF]",
                   "*.[sS][tT][eE][pP]", "*.[sS][tT][pP]", "*.[gG][lL][bB]", "*.[gG][lL][tT][fF]"}},
                 {"All files", {"*"}}},
                {}};
    }
    const bool report = question == FileQuestion::report;
    const FileNameAsked asked = report ? asked_for_report(app) : asked_to_save_as(app);
    FileDialogAsked dialog{true, asked.title, folder_of(app), asked.proposed.filename().string(), {}, {}};
    if (report) {
        dialog.filters = {{"Pages for a browser or for paper", {"*.html", "*.pdf"}}};
    } else {
        dialog.filters = {{"Set-ups", {"*.set-up.json"}}};
    }
    return dialog;
}

std::vector<Intent> intents_of_answer(const App& app, FileQuestion question, const fs::path& file) {
    if (question == FileQuestion::open) {
        return intents_of_drop(app, file.string());
    }
    const bool report = question == FileQuestion::report;
    const FileNameWanted wanted = (report ? asked_for_report(app) : asked_to_save_as(app)).wanted;
    const fs::path whole = wanted.completed(file);
    std::error_code ignored;
    if (whole != file && fs::exists(whole, ignored) && !wanted.over(whole)) {
        return {FileQuestionIntent{AskForFile{question, true, whole}}};
    }
    return {report ? Intent{MakeReport{whole.string()}} : Intent{EditIntent{SaveAs{whole.string()}}}};
}

} // namespace evenclose
