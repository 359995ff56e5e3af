// viewer/ui/mold_folder_walk.hpp: another folder of molds looked for: a path typed, the folders that begin like it to choose from.
#pragma once

#include "viewer/app/open_entries.hpp"
#include "viewer/ui/panel.hpp"
#include "viewer/ui/text_field.hpp"

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace evenclose {

class MoldFolderWalk {
public:
    struct End {
        std::optional<std::filesystem::path> folder; // none: back to where one was; empty: as before any was chosen
    };

    void begin(const std::filesystem::path& folder);
    void end();
    [[nodiscard]] bool open() const { return path_.open(); }
    /// Draws it on the sheet's paper, below its title. Gives how it ended, if it did in this frame; end() is then the caller's.
    [[nodiscard]] std::optional<End> draw(const Desk& desk, const Rect& paper, bool keys_waiting);

    [[nodiscard]] bool takes_keys() const { return path_.takes_keys(); }
    [[nodiscard]] bool takes_up() const { return path_.takes_up(); }

private:
    void go_into(const std::filesystem::path& folder);
    /// The folder that is written; none where it is not there, which is then said.
    [[nodiscard]] std::optional<End> taken();
    void step(TextField::End key);
    [[nodiscard]] std::optional<std::filesystem::path> list(const Desk& desk, const Rect& body, bool stepped);

    TextField path_{TextField::Over::list};
    bool left_ = false;      // the field lost the keys
    std::string listed_for_; // what stood in the path
    std::vector<FolderEntry> entries_;
    std::optional<std::size_t> entry_; // the folder that is chosen in the list
    std::string fault_;
};

} // namespace evenclose
