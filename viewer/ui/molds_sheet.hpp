// viewer/ui/molds_sheet.hpp: the molds of a folder as cards: a picture, the size, and how each fares in the press that is
// open. Typing narrows them down, arrows and Enter choose one, Tab leads to another folder.
#pragma once

#include "viewer/ui/mold_folder_walk.hpp"
#include "viewer/ui/mold_pictures.hpp"
#include "viewer/ui/panel.hpp"
#include "viewer/ui/text_field.hpp"

#include <cstddef>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace evenclose {

class MoldsSheet {
public:
    void draw(const Desk& desk, const Rect& window, bool keys_waiting);
    [[nodiscard]] bool takes_keys() const { return sought_.takes_keys() || walk_.takes_keys(); }
    [[nodiscard]] bool takes_up() const { return sought_.takes_up() || walk_.takes_up(); }
    void closed();
    void let_go_of_pictures() { pictures_ = {}; }

private:
    /// Where the cards lie, from the top of what scrolls.
    struct Grid {
        std::size_t columns = 1;
        float card = 0, gap = 0, picture = 0; // pixels: a card's width, what is between, its picture's height
        std::vector<float> tops, heights;     // of the rows
        [[nodiscard]] float high() const { return tops.empty() ? 0 : tops.back() + heights.back(); }
    };

    void open();
    void take_listing(const Desk& desk);
    void head(const Desk& desk, const Rect& paper, bool keys_waiting);
    void status(const Desk& desk, const Rect& row) const;
    void nothing(const Desk& desk, const Rect& body) const;
    [[nodiscard]] Grid grid_in(const Desk& desk, const Rect& body) const;
    void cards(const Desk& desk, const Rect& body, const Grid& grid);
    void card(const Desk& desk, const Pen& pen, const Rect& place, const Grid& grid, std::size_t index, bool whole);
    void foot(const Desk& desk, const Rect& row) const;
    void take_keys(const Desk& desk, TextField::End end, const Grid& grid, const Rect& body);
    void walk(const Desk& desk, const Rect& paper, bool keys_waiting);

    [[nodiscard]] const ListedMold& mold(std::size_t index) const { return listing_->molds[index]; }
    [[nodiscard]] std::optional<std::size_t> chosen() const; // into found_
    [[nodiscard]] bool readable(const App& app, std::size_t index) const;

    TextField sought_{TextField::Over::grid};
    MoldFolderWalk walk_;                           // another folder is looked for
    TextField::End pressed_ = TextField::End::none; // on the cards, in this frame
    bool shifted_ = false, left_ = false;           // with Shift; the field lost the keys
    std::shared_ptr<const MoldListing> listing_;
    std::vector<std::filesystem::path> ids_; // of its molds
    std::vector<std::size_t> found_;         // into the listing
    std::filesystem::path chosen_;           // a mold's file
    std::filesystem::path here_;             // that of the mold in the chosen opening, and of which set-up
    std::shared_ptr<const Setup> setup_;
    std::size_t opening_ = 0;
    bool scrolls_ = false;    // the chosen card is to be brought into sight
    std::vector<float> tops_; // of the rows, as they were last drawn, and the first that was in sight
    std::size_t first_row_ = 0;
    MoldPictures pictures_;
};

} // namespace evenclose
