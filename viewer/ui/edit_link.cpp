#include "viewer/ui/edit_link.hpp"

#include "viewer/app/open_documents.hpp"

#include <algorithm>
#include <string>

namespace evenclose {
namespace {

/// Of the document's fields, where the card's numbers stand.
struct Linked {
    std::filesystem::path file;
    const char* words;
};

Linked linked_by(const App& app, std::string_view card) {
    const EditedDocuments& documents = app.documents;
    if (!app.setup || documents.texts.empty()) {
        return {};
    }
    const auto named = [&](const std::string& written) {
        const std::filesystem::path file = document_id(documents.setup.parent_path() / written);
        return documents.texts.contains(file) ? file : std::filesystem::path{};
    };
    if (card == "bench.press") {
        return {named(app.setup->press_file), "Edit the press"};
    }
    if ((card == "bench.mold" || card == "bench.stack") && app.opening < app.setup->openings.size()) {
        return {named(app.setup->openings[app.opening].mold_file),
                card == "bench.mold" ? "Edit the mold" : "Edit the stack"};
    }
    return {};
}

} // namespace

float edit_link(const Desk& desk, const Pen& pen, std::string_view card, float x, float y, float width) {
    const Linked linked = linked_by(desk.app, card);
    if (linked.file.empty()) {
        return 0;
    }
    const std::string id = std::string(card) + ".edit";
    const float words = pen.width_of(Face::small, linked.words);
    const Rect place{x, y + pen.px(2), std::min(words + pen.px(20), width), pen.px(20)};
    const Pressable press = pen.pressable(id.c_str(), place);
    desk.places.note(id, place);
    if (press.hovered) {
        pen.fill(place, colour::accent_pale, 2);
        ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
        pen.tip("Every number of the document, to be typed over  ( E )");
    }
    // A pencil's point, set down.
    const float tip = place.middle_y();
    pen.line(place.x + pen.px(2), tip + pen.px(4), place.x + pen.px(9), tip - pen.px(4), colour::accent, 2);
    pen.text(place.x + pen.px(14), tip - 0.5F * pen.height_of(Face::small), Face::small, colour::accent, linked.words,
             width - pen.px(14));
    if (press.pressed) {
        desk.want(EditIntent{ShowFields{linked.file, card == "bench.stack" ? "stack.plies[0].thickness" : "", false}});
    }
    return pen.px(24);
}

} // namespace evenclose
