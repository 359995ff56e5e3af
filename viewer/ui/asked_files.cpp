#include "viewer/ui/asked_files.hpp"

#include "viewer/report/write_report.hpp"

#include <string>

namespace evenclose {

namespace fs = std::filesystem;

FileNameAsked asked_to_save_as(const App& app) {
    FileNameAsked asked;
    asked.id = "save_as";
    asked.title = "Save the set-up under another name";
    asked.words =
        "Press and mold, where they were edited, are written beside it under the same name; what you opened stays "
        "as it is on the disk.";
    asked.proposed = app.documents.setup;
    asked.itself = app.documents.setup;
    asked.ending = ".set-up.json";
    asked.example = "oak.set-up.json";
    asked.takes = [](const fs::path& file) { return file.extension() == ".json"; };
    return asked;
}

FileNameAsked asked_for_report(const App& app) {
    FileNameAsked asked;
    asked.id = "report";
    asked.title = "Make the report";
    asked.words =
        "One page with the verdict, pictures, curves, every finding with its remedy and the numbers it stands on. A "
        "name that ends in .html is for a browser, one in .pdf for paper (A4).";
    std::string stem = fs::path(app.file).filename().string();
    stem = stem.substr(0, stem.find(".set-up"));
    asked.proposed = app.documents.setup.parent_path() / (stem + ".html");
    asked.ending = ".html";
    asked.example = "oak.html or oak.pdf";
    asked.key = "Make it";
    asked.takes = ends_as_report;
    return asked;
}

} // namespace evenclose
