// viewer/ui/file_name_sheet.hpp: a sheet on which a file to be written is named: asked once more before one that is there is
// written over.
#pragma once

#include "viewer/ui/panel.hpp"
#include "viewer/ui/text_field.hpp"

#include <filesystem>
#include <functional>
#include <optional>
#include <string>

namespace evenclose {

struct FileNameAsked {
    std::string id; // "save_as": places are "sheet.save_as", "save_as.field", "save_as.fault" and "save_as.save"
    std::string title, words;
    std::filesystem::path proposed;
    std::string ending;  // put behind a name that has none that is taken
    std::string example; // "oak.set-up.json"
    std::string key = "Save";
    std::function<bool(const std::filesystem::path&)> takes; // endings
    std::filesystem::path itself = {};                       // may be written over without being asked
};

class FileNameSheet {
public:
    /// The file, once it is named and Enter or the key was pressed.
    [[nodiscard]] std::optional<std::filesystem::path> draw(const Desk& desk, const Rect& window,
                                                            const FileNameAsked& asked, bool keys_waiting);
    [[nodiscard]] bool takes_keys() const { return field_.takes_keys(); }
    [[nodiscard]] bool takes_up() const { return field_.takes_up(); }
    void closed() {
        if (field_.open()) {
            field_.end();
        }
    }

private:
    [[nodiscard]] std::string fault_of(const FileNameAsked& asked, const std::filesystem::path& file);

    TextField field_;
    std::string fault_, fault_for_, asked_for_; // asked_for_: an existing file that Enter was pressed for once
};

} // namespace evenclose
