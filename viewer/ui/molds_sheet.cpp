#include "viewer/ui/molds_sheet.hpp"

#include "viewer/app/apply.hpp"
#include "viewer/app/mold_list.hpp"
#include "viewer/ui/words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <utility>

namespace evenclose {
namespace {

namespace fs = std::filesystem;
using End = TextField::End;

constexpr float kCard_pt = 214, kGap_pt = 14; // a card's width at least
constexpr float kPictureShape = 1.6F;         // width to height
constexpr float kEdge_pt = 10;                // of a card, round its words

/// A path as far as its end goes into the room, whole folders left out in front: "…/molds/curlew".
std::string path_that_fits(const Pen& pen, Face face, const std::string& path, float room) {
    std::string words = path;
    std::size_t from = 0;
    while (pen.width_of(face, words) > room) {
        const std::size_t next = path.find('/', from + 1);
        if (next == std::string::npos) {
            break;
        }
        from = next;
        words = "..." + path.substr(from);
    }
    return words;
}

/// "curlew/curlew.mold.json" seen from the folder that is shown.
std::string file_in(const fs::path& folder, const fs::path& file) {
    const fs::path relative = file.lexically_relative(folder);
    return relative.empty() ? file.string() : relative.string();
}

/// What is known of a mold, as it stands now.
struct Known {
    std::shared_ptr<const MoldLook> look;
    std::shared_ptr<const Fit> fit;

    Known(const App& app, const ListedMold& mold)
        : look(app.molds.store->look(mold)), fit(app.molds.store->fit(mold, app.molds.press)) {}
    [[nodiscard]] const std::vector<DocumentFault>* faults() const {
        return look && !look->faults.empty() ? &look->faults : fit && !fit->faults.empty() ? &fit->faults : nullptr;
    }
    [[nodiscard]] std::optional<Verdict> verdict() const {
        return faults() == nullptr && fit ? std::optional(fit->verdict) : std::nullopt;
    }
};

std::optional<Verdict> verdict_of(const App& app, const ListedMold& mold) { return Known(app, mold).verdict(); }

/// What a card says under its picture, laid down from y; `draw` false only measures. The height.
float card_words(const Desk& desk, const Pen& pen, const ListedMold& mold, const fs::path& folder, float x, float y,
                 float room, bool draw) {
    const App& app = desk.app;
    const Known known(app, mold);
    const float start = y;
    const auto put = [&](Face face, ImU32 colour, const std::string& words, float indent = 0) {
        y += draw ? pen.wrapped(x + indent, y, room - indent, face, colour, words)
                  : pen.wrapped_height(room - indent, face, words);
    };
    put(Face::strong, colour::ink, mold.name);
    const std::string file = file_in(folder, mold.file);
    put(Face::small, colour::graphite, path_that_fits(pen, Face::small, file, room));
    if (const auto* faults = known.faults()) {
        y += pen.px(4);
        put(Face::small, colour::foul_word, fault_words(*faults));
        return y - start;
    }
    put(Face::small, colour::ink,
        known.look ? size_words(known.look->size_mm, app.units) + (app.units == UnitSystem::metric ? " mm" : " in")
                   : std::string(" "));
    y += pen.px(6);
    const float mark = pen.px(13);
    if (!known.fit) {
        const bool comes = app.molds.fits_run;
        put(Face::small, colour::faint, comes ? "the press is still asked" : "the press was not asked yet");
        return y - start;
    }
    const FitWords words = fit_words(*known.fit, app.units);
    if (draw) {
        pen.verdict_mark(x, y + pen.px(1), mark, known.fit->verdict);
    }
    put(Face::small, word_colour(known.fit->verdict),
        words.sentence.empty() ? words.verdict : words.verdict + ": " + words.sentence, mark + pen.px(7));
    return y - start;
}

} // namespace

void MoldsSheet::closed() {
    if (sought_.open()) {
        sought_.end();
    }
    walk_.end();
    listing_.reset();
    setup_.reset();
    chosen_.clear();
    pictures_.end_frame();
}

void MoldsSheet::open() {
    sought_.begin("", false);
    chosen_ = here_;
    scrolls_ = true;
    left_ = false;
}

void MoldsSheet::take_listing(const Desk& desk) {
    const App& app = desk.app;
    if (listing_ != app.molds.listing) {
        listing_ = app.molds.listing;
        ids_.clear();
        for (const ListedMold& mold : listing_->molds) {
            ids_.push_back(document_id(mold.file));
        }
        scrolls_ = true;
    }
    std::vector<std::optional<Verdict>> verdicts;
    verdicts.reserve(listing_->molds.size());
    for (const ListedMold& mold : listing_->molds) {
        verdicts.push_back(verdict_of(app, mold));
    }
    found_ = found_molds(listing_->molds, verdicts, sought_.text());
}

std::optional<std::size_t> MoldsSheet::chosen() const {
    const auto at = std::find_if(found_.begin(), found_.end(), [&](std::size_t i) { return ids_[i] == chosen_; });
    if (at == found_.end()) {
        return found_.empty() ? std::nullopt : std::optional<std::size_t>(0);
    }
    return static_cast<std::size_t>(at - found_.begin());
}

bool MoldsSheet::readable(const App& app, std::size_t index) const {
    return Known(app, mold(index)).faults() == nullptr;
}

void MoldsSheet::head(const Desk& desk, const Rect& paper, bool keys_waiting) {
    const Pen pen = desk.pen();
    const float x = paper.x + pen.px(24);
    const float right = paper.right() - pen.px(24);
    const Rect field{x, paper.y + pen.px(56), pen.px(270), pen.px(32)};
    desk.places.note("molds.sought", field);
    const std::string before = sought_.text();
    const End end = sought_.draw(pen, field, "##sought", keys_waiting, Face::text);
    if (sought_.text().empty()) {
        pen.text(field.x + pen.px(10), field.middle_y() - 0.5F * pen.height_of(Face::small), Face::small, colour::faint,
                 "find: a name, go, marginal, no-go");
    }
    if (sought_.text() != before) {
        scrolls_ = true;
    }
    pressed_ = end;
    shifted_ = ImGui::GetIO().KeyShift;
    // Where nothing came of it the typing goes on; not while a hand is still on a card.
    left_ = left_ || end == End::entered || end == End::left;
    if (left_ && !ImGui::IsMouseDown(ImGuiMouseButton_Left)) {
        sought_.begin(sought_.text(), false);
        left_ = false;
    }
    const Rect other{right - pen.px(128), field.y, pen.px(128), field.height};
    bool walks = pen.button("molds.other", other, "Another folder", false, "Tab");
    const float room = other.x - field.right() - pen.px(30);
    const Rect where{field.right() + pen.px(18), field.y, room, field.height};
    pen.text(where.right(), where.middle_y() - 0.5F * pen.height_of(Face::small), Face::small, colour::graphite,
             path_that_fits(pen, Face::small, desk.app.molds.folder.string(), room), room, Align::right);
    desk.places.note("molds.folder", where);
    pen.hint(where, desk.app.molds.folder.string());
    walks = walks || end == End::next || end == End::previous;
    if (walks) {
        sought_.end();
        walk_.begin(desk.app.molds.folder);
    }
}

void MoldsSheet::status(const Desk& desk, const Rect& row) const {
    const Pen pen = desk.pen();
    const Molds& molds = desk.app.molds;
    std::vector<std::optional<Verdict>> verdicts;
    std::size_t unread = 0;
    for (const ListedMold& mold : listing_->molds) {
        const Known known(desk.app, mold);
        unread += known.faults() != nullptr ? 1 : 0;
        verdicts.push_back(known.verdict());
    }
    const float y = row.middle_y() - 0.5F * pen.height_of(Face::small);
    float right = row.right();
    if (molds.fits_run || molds.fits_stopped) {
        const float stop = pen.px(64);
        if (pen.button("molds.stop", {right - stop, row.y, stop, row.height}, molds.fits_run ? "Stop" : "Go on", false,
                       molds.fits_run ? "What was found out stays" : nullptr, Face::small)) {
            desk.want(molds.fits_run ? MoldsIntent{StopMoldFits{}} : MoldsIntent{GoOnWithFits{}});
        }
        right -= stop + pen.px(10);
        if (molds.fits_run) {
            const Rect bar{right - pen.px(130), row.middle_y() - pen.px(3), pen.px(130), pen.px(6)};
            const auto share = static_cast<float>(std::clamp(desk.molds_progress, 0.0, 1.0));
            pen.fill(bar, colour::pencil, 1);
            pen.fill({bar.x, bar.y, bar.width * share, bar.height}, colour::accent, 1);
            desk.places.note("molds.progress", bar);
            right = bar.x - pen.px(12);
        }
        std::string words = "stopped";
        if (molds.fits_run) {
            words = fmt::format("asking the press, {} of {}", std::min(molds.fitted + 1, molds.to_fit), molds.to_fit);
            words += molds.seconds_left ? ", " + left_words(*molds.seconds_left) : std::string();
        }
        const float wide = pen.text(right, y, Face::small, colour::graphite, words, row.width, Align::right);
        desk.places.note("molds.left", {right - wide, row.y, wide, row.height});
        right -= wide + pen.px(16);
    }
    pen.text(row.x, y, Face::small, colour::ink, counted_words(*listing_, verdicts, unread, molds.listed),
             right - row.x);
}

void MoldsSheet::nothing(const Desk& desk, const Rect& body) const {
    const Molds& molds = desk.app.molds;
    std::string words;
    if (!molds.listed) {
        words = "Looking through the folder ...";
    } else if (!listing_->fault.empty()) {
        words = fmt::format("This folder cannot be looked into: {}. Tab leads to another one.", listing_->fault);
    } else if (listing_->molds.empty()) {
        words =
            "No mold document lies here or in the folders below: their names end in .mold.json. Tab leads to another "
            "folder.";
    } else {
        words = "No mold here is called that. Fewer letters find more.";
    }
    const Pen pen = desk.pen();
    const float high = pen.wrapped(body.x, body.y + pen.px(10), std::min(body.width, pen.px(640)), Face::text,
                                   listing_->fault.empty() ? colour::graphite : colour::foul_word, words);
    desk.places.note("molds.nothing", {body.x, body.y, body.width, high});
}

MoldsSheet::Grid MoldsSheet::grid_in(const Desk& desk, const Rect& body) const {
    const Pen pen = desk.pen();
    Grid grid;
    grid.gap = pen.px(kGap_pt);
    const float room = body.width - pen.px(14); // for the scroll bar
    grid.columns =
        static_cast<std::size_t>(std::max(std::floor((room + grid.gap) / (pen.px(kCard_pt) + grid.gap)), 1.0F));
    const auto columns = static_cast<float>(grid.columns);
    grid.card = std::floor((room - (columns - 1) * grid.gap) / columns);
    grid.picture = std::floor(grid.card / kPictureShape);
    float top = 0;
    for (std::size_t first = 0; first < found_.size(); first += grid.columns) {
        float high = 0;
        for (std::size_t i = first; i < std::min(first + grid.columns, found_.size()); ++i) {
            high = std::max(high, card_words(desk, pen, mold(found_[i]), desk.app.molds.folder, 0, 0,
                                             grid.card - 2 * pen.px(kEdge_pt), false));
        }
        grid.tops.push_back(top);
        // As high as most will be once the press has spoken, so that cards do not wander while they are looked at.
        const float most = pen.height_of(Face::strong) + 5 * pen.height_of(Face::small) + pen.px(8);
        grid.heights.push_back(std::ceil(grid.picture + std::max(high, most) + pen.px(8 + kEdge_pt)));
        top += grid.heights.back() + grid.gap;
    }
    return grid;
}

void MoldsSheet::card(const Desk& desk, const Pen& pen, const Rect& place, const Grid& grid, std::size_t index,
                      bool whole) {
    const App& app = desk.app;
    const ListedMold& mold = this->mold(index);
    const Known known(app, mold);
    const std::string id = file_in(app.molds.folder, mold.file);
    const bool here = !here_.empty() && ids_[index] == here_;
    const auto now = chosen();
    const bool is_chosen = now && found_[*now] == index;
    ImGui::PushID(id.c_str());
    // Before the card: what lies on top takes the press.
    const Rect compare{place.right() - pen.px(80), place.y + pen.px(6), pen.px(74), pen.px(24)};
    const bool comparable = !here && known.faults() == nullptr;
    const Pressable on_compare = comparable ? pen.pressable("compare", compare) : Pressable{};
    const Pressable press = pen.pressable("card", place);
    ImGui::PopID();
    if (whole) {
        desk.places.note("molds.card." + id, place);
        if (is_chosen) {
            desk.places.note("molds.chosen", place);
        }
    }
    pen.fill({place.x + pen.px(1), place.y + pen.px(2), place.width, place.height}, colour::shadow, 2);
    pen.fill(place,
             press.hovered || on_compare.hovered ? mixed(colour::card, colour::accent_pale, 0.5F) : ImU32{colour::card},
             2);
    const Rect picture{place.x, place.y, place.width, grid.picture};
    if (ImTextureID texture = known.look ? pictures_.texture(known.look->picture) : nullptr) {
        pen.list().AddImage(texture, {picture.x, picture.y}, {picture.right(), picture.bottom()});
    } else {
        pen.fill(picture, colour::board);
        const char* words = known.faults() != nullptr ? "cannot be read" : known.look ? "no picture" : "...";
        pen.text(picture.middle_x(), picture.middle_y() - 0.5F * pen.height_of(Face::small), Face::small,
                 known.faults() != nullptr ? colour::foul_word : colour::faint, words, picture.width, Align::middle);
    }
    pen.line(place.x, picture.bottom(), place.right(), picture.bottom(), colour::pencil);
    card_words(desk, pen, mold, app.molds.folder, place.x + pen.px(kEdge_pt), picture.bottom() + pen.px(8),
               place.width - 2 * pen.px(kEdge_pt), true);
    pen.outline(place, is_chosen ? ImU32{colour::accent} : ImU32{colour::pencil}, is_chosen ? 2.5F : 1, 2);
    if (here) {
        const float wide = pen.width_of(Face::small, "in the press") + pen.px(14);
        const Rect tag{place.x + pen.px(6), place.y + pen.px(6), wide, pen.px(22)};
        pen.fill(tag, colour::accent, 2);
        pen.text(tag.middle_x(), tag.middle_y() - 0.5F * pen.height_of(Face::small), Face::small, colour::on_accent,
                 "in the press", tag.width, Align::middle);
        if (whole) {
            desk.places.note("molds.here", tag);
        }
    }
    if (comparable && (is_chosen || press.hovered || on_compare.hovered)) {
        pen.fill(compare, on_compare.hovered ? colour::accent_pale : colour::card, 2);
        pen.outline(compare, colour::accent, 1, 2);
        pen.text(compare.middle_x(), compare.middle_y() - 0.5F * pen.height_of(Face::small), Face::small,
                 colour::accent, "Compare", compare.width, Align::middle);
        if (whole) {
            desk.places.note("molds.compare." + id, compare);
        }
    }
    if (press.hovered || on_compare.hovered) {
        ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
    }
    if (on_compare.pressed) {
        desk.want(MoldsIntent{CompareMold{mold.file}});
    } else if (press.pressed && known.faults() == nullptr) {
        desk.want(MoldsIntent{TakeMold{mold.file}});
    } else if (press.pressed) {
        chosen_ = ids_[index];
    }
}

void MoldsSheet::take_keys(const Desk& desk, End end, const Grid& grid, const Rect& body) {
    const auto now = chosen();
    if (!now) {
        return;
    }
    if (end == End::entered) {
        const std::size_t index = found_[*now];
        if (readable(desk.app, index)) {
            desk.want(shifted_ ? MoldsIntent{CompareMold{mold(index).file}} : MoldsIntent{TakeMold{mold(index).file}});
        }
        return;
    }
    constexpr std::pair<End, CardStep> steps[] = {
        {End::leftward, CardStep::left}, {End::rightward, CardStep::right}, {End::up, CardStep::up},
        {End::down, CardStep::down},     {End::page_up, CardStep::page_up}, {End::page_down, CardStep::page_down},
        {End::first, CardStep::first},   {End::last, CardStep::last}};
    for (const auto& [key, step] : steps) {
        if (end == key) {
            const float row = grid.heights.empty() ? 1 : grid.heights.front() + grid.gap;
            const auto rows = static_cast<std::size_t>(std::max(body.height / row, 1.0F));
            chosen_ = ids_[found_[stepped(*now, step, found_.size(), grid.columns, rows)]];
            scrolls_ = true;
        }
    }
}

void MoldsSheet::cards(const Desk& desk, const Rect& body, const Grid& grid) {
    take_keys(desk, pressed_, grid, body);
    ImGui::SetCursorScreenPos({body.x, body.y});
    ImGui::BeginChild("mold cards", {body.width, body.height}, false, ImGuiWindowFlags_NoBackground);
    const Pen pen = desk.pen(); // of the scrolling child
    const ImVec2 start = ImGui::GetCursorScreenPos();
    std::vector<fs::path> in_sight;
    std::vector<fs::path> near; // a row more, each way
    for (std::size_t i = 0; i < found_.size(); ++i) {
        const std::size_t row = i / grid.columns;
        const Rect place{start.x + static_cast<float>(i % grid.columns) * (grid.card + grid.gap),
                         start.y + grid.tops[row], grid.card, grid.heights[row]};
        if (place.bottom() > body.y && place.y < body.bottom()) {
            in_sight.push_back(mold(found_[i]).file);
            const bool whole = place.y >= body.y - 1 && place.bottom() <= body.bottom() + 1;
            card(desk, pen, place, grid, found_[i], whole);
        } else if (place.bottom() > body.y - grid.heights[row] && place.y < body.bottom() + grid.heights[row]) {
            near.push_back(mold(found_[i]).file);
        }
    }
    in_sight.insert(in_sight.end(), near.begin(), near.end());
    desk.app.molds.in_sight->set(std::move(in_sight));
    ImGui::SetCursorScreenPos(start);
    ImGui::Dummy({1, grid.high() + pen.px(4)});
    const float scroll = ImGui::GetScrollY();
    if (const auto now = chosen(); now && scrolls_) {
        const std::size_t row = *now / grid.columns;
        const float low = grid.tops[row] + grid.heights[row] + pen.px(4) - body.height;
        ImGui::SetScrollY(std::clamp(scroll, std::min(low, grid.tops[row]), grid.tops[row]));
        scrolls_ = false;
    } else if (first_row_ < grid.tops.size() && tops_.size() == grid.tops.size() &&
               grid.tops[first_row_] != tops_[first_row_]) {
        ImGui::SetScrollY(scroll + grid.tops[first_row_] - tops_[first_row_]); // rows above grew: what is seen stays
    }
    tops_ = grid.tops;
    first_row_ = static_cast<std::size_t>(std::upper_bound(tops_.begin(), tops_.end(), scroll) - tops_.begin());
    first_row_ -= first_row_ > 0 ? 1 : 0;
    ImGui::EndChild();
}

void MoldsSheet::foot(const Desk& desk, const Rect& row) const {
    const Pen pen = desk.pen();
    const auto now = chosen();
    if (!now) {
        return;
    }
    const std::size_t index = found_[*now];
    const bool usable = readable(desk.app, index);
    const Rect take{row.right() - pen.px(170), row.y, pen.px(170), row.height};
    const Rect compare{take.x - pen.px(12) - pen.px(220), row.y, pen.px(220), row.height};
    const float y = row.middle_y() - 0.5F * pen.height_of(Face::small);
    const bool several = desk.app.setup && desk.app.setup->openings.size() > 1;
    const std::string words = fmt::format("Asked one by one, alone in the middle of the platen, as on the disk.{}",
                                          several ? fmt::format(" Enter: opening {}.", desk.app.opening + 1) : "");
    pen.text(row.x, y, Face::small, colour::graphite, words, compare.x - row.x - pen.px(16));
    if (!usable) {
        return;
    }
    if (pen.answer("molds.take", take, "Swap it in  ( Enter )", true)) {
        desk.want(MoldsIntent{TakeMold{mold(index).file}});
    }
    if (pen.answer("molds.compare", compare, "Compare  ( Shift Enter )", false)) {
        desk.want(MoldsIntent{CompareMold{mold(index).file}});
    }
}

void MoldsSheet::walk(const Desk& desk, const Rect& paper, bool keys_waiting) {
    const auto ended = walk_.draw(desk, paper, keys_waiting);
    if (!ended) {
        return;
    }
    if (ended->folder) {
        desk.want(MoldsIntent{SetMoldFolder{*ended->folder}});
        scrolls_ = true;
    }
    walk_.end();
    sought_.begin("", false);
}

void MoldsSheet::draw(const Desk& desk, const Rect& window, bool keys_waiting) {
    const Pen pen = desk.pen();
    if (const App& app = desk.app; setup_ != app.setup || opening_ != app.opening) {
        setup_ = app.setup;
        opening_ = app.opening;
        const bool there = app.setup && app.opening < app.setup->openings.size();
        here_ = there ? document_id(app.documents.setup.parent_path() / app.setup->openings[app.opening].mold_file)
                      : fs::path{};
    }
    if (!sought_.open() && !walk_.open()) {
        open();
    }
    take_listing(desk);
    const float wide = std::clamp(0.86F * window.width / pen.scale(), 980.0F, 1640.0F);
    const float high = std::clamp(0.92F * window.height / pen.scale(), 560.0F, 1080.0F);
    const Rect paper =
        begin_sheet(desk, window, "sheet.molds", walk_.open() ? "Another folder of molds" : "Molds", wide, high);
    const Rect inner{paper.x + pen.px(24), paper.y, paper.width - pen.px(34), paper.height};
    if (walk_.open()) {
        walk(desk, paper, keys_waiting);
        pictures_.end_frame();
        return;
    }
    head(desk, paper, keys_waiting);
    const Rect row{inner.x, paper.y + pen.px(94), paper.width - pen.px(48), pen.px(26)};
    status(desk, row);
    const Rect foot_row{inner.x, paper.bottom() - pen.px(48), paper.width - pen.px(48), pen.px(34)};
    const Rect body{inner.x, row.bottom() + pen.px(8), inner.width, foot_row.y - pen.px(10) - row.bottom() - pen.px(8)};
    const Grid grid = grid_in(desk, body);
    const MoldPictureWish wish{static_cast<int>(grid.card), static_cast<int>(grid.picture), desk.app.theme()};
    if (wish != desk.app.molds.wish) {
        desk.want(MoldsIntent{SetMoldPictures{wish}});
    }
    if (found_.empty()) {
        nothing(desk, body);
    } else {
        cards(desk, body, grid);
        foot(desk, foot_row);
    }
    pictures_.end_frame();
}

} // namespace evenclose
