#include "viewer/ui/asked_files.hpp"

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

bool ends_as_document(const fs::path& file) { return file.extension() == ".json"; }

} // namespace

FileNameAsked asked_to_save_as(const App& app) {
    FileNameAsked asked{
        "Save the set-up under another name",
        "Press and mold, where they were edited, are written beside it under the same name; what you opened stays "
        "as it is on the disk.",
        app.documents.setup, named_with("save_as", ".set-up.json", "oak.set-up.json", ends_as_document)};
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
        app.documents.setup.parent_path() / (stem + ".html"),
        named_with("report", ".html", "oak.html or oak.pdf", ends_as_report)};
    asked.wanted.key = "Make it";
    return asked;
}

} // namespace evenclose
