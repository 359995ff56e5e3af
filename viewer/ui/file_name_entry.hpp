// viewer/ui/file_name_entry.hpp: the line on a sheet in which a file to be written is named, and the key that goes with it:
// asked once more before one that is there is written over.
#pragma once

#include "viewer/ui/panel.hpp"
#include "viewer/ui/text_field.hpp"

#include <filesystem>
#include <functional>
#include <optional>
#include <string>

namespace evenclose {

struct FileNameWanted {
    std::string id; // "save_as": places are "save_as.field", "save_as.fault" and "save_as.save"
    std::string key = "Save";
    std::string other_key = {}; // beside it, for another way to do it; empty: there is none
    std::function<std::filesystem::path(const std::filesystem::path&)> completed =
        {}; // with its ending; none: as typed
    /// What is wrong with the name, in a sentence; empty if it will do.
    std::function<std::string(const std::filesystem::path&)> fault;
    /// A file of that name may be written over without being asked.
    std::function<bool(const std::filesystem::path&)> over = [](const std::filesystem::path&) { return false; };
};

class FileNameEntry {
public:
    [[nodiscard]] bool open() const { return field_.open(); }
    void begin(const std::string& proposed);
    /// Draws the line at `y` and the key at the paper's foot. The file, once it is named and Enter or the key was pressed.
    /// Needs: begin() before.
    [[nodiscard]] std::optional<std::filesystem::path> draw(const Desk& desk, const Rect& paper, float y,
                                                            const FileNameWanted& wanted, bool keys_waiting);
    /// The other key was pressed for the file that draw() gave last.
    [[nodiscard]] bool other() const { return other_; }
    [[nodiscard]] const std::string& text() const { return field_.text(); }
    [[nodiscard]] bool takes_keys() const { return field_.takes_keys(); }
    [[nodiscard]] bool takes_up() const { return field_.takes_up(); }
    void closed() {
        if (field_.open()) {
            field_.end();
        }
    }

private:
    [[nodiscard]] std::string fault_of(const FileNameWanted& wanted, const std::filesystem::path& file);

    TextField field_;
    bool other_ = false;
    std::string fault_, fault_for_, asked_for_; // asked_for_: an existing file that was asked for once
};

} // namespace evenclose
