// viewer/ui/file_name_sheet.hpp: a sheet that asks for nothing but the name of a file to be written.
#pragma once

#include "viewer/ui/file_name_entry.hpp"

namespace evenclose {

struct FileNameAsked {
    std::string title, words;
    std::filesystem::path proposed;
    FileNameWanted wanted; // its id is the sheet's too: "sheet.save_as"
};

class FileNameSheet {
public:
    /// The file, once it is named.
    [[nodiscard]] std::optional<std::filesystem::path> draw(const Desk& desk, const Rect& window,
                                                            const FileNameAsked& asked, bool keys_waiting);
    [[nodiscard]] bool other() const { return entry_.other(); }
    [[nodiscard]] bool takes_keys() const { return entry_.takes_keys(); }
    [[nodiscard]] bool takes_up() const { return entry_.takes_up(); }
    void closed() { entry_.closed(); }

private:
    FileNameEntry entry_;
};

} // namespace evenclose
