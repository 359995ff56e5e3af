#include "viewer/ui/pen.hpp"

#include "viewer/ui/words.hpp"

#include <algorithm>
#include <cfloat>
#include <cmath>

namespace evenclose {
namespace {

constexpr std::string_view kEllipsis = "…";

} // namespace

Pen::Pen(const Fonts& fonts, float scale, Places& places)
    : fonts_(fonts), scale_(scale), places_(places), list_(ImGui::GetWindowDrawList()) {}

void Pen::fill(const Rect& rect, ImU32 colour, float round_pt) const {
    list_->AddRectFilled({rect.x, rect.y}, {rect.right(), rect.bottom()}, colour, px(round_pt));
}

void Pen::outline(const Rect& rect, ImU32 colour, float width_pt, float round_pt) const {
    const float half = 0.5F * px(width_pt);
    list_->AddRect({rect.x + half, rect.y + half}, {rect.right() - half, rect.bottom() - half}, colour, px(round_pt), 0,
                   px(width_pt));
}

void Pen::line(float x0, float y0, float x1, float y1, ImU32 colour, float width_pt) const {
    list_->AddLine({x0, y0}, {x1, y1}, colour, px(width_pt));
}

void Pen::dashed(float x0, float y0, float x1, float y1, ImU32 colour, float width_pt, float dash_pt) const {
    const float length = std::hypot(x1 - x0, y1 - y0);
    const float step = 2.0F * px(dash_pt);
    for (float at = 0; at < length; at += step) {
        const float end = std::min(at + 0.5F * step, length);
        list_->AddLine({x0 + (x1 - x0) * at / length, y0 + (y1 - y0) * at / length},
                       {x0 + (x1 - x0) * end / length, y0 + (y1 - y0) * end / length}, colour, px(width_pt));
    }
}

float Pen::height_of(Face face) const { return fonts_.of(face)->FontSize; }

float Pen::width_of(Face face, std::string_view words) const {
    const ImFont* font = fonts_.of(face);
    return font->CalcTextSizeA(font->FontSize, FLT_MAX, 0.0F, words.data(), words.data() + words.size()).x;
}

float Pen::text(float x, float y, Face face, ImU32 colour, std::string_view words, float room, Align align) const {
    const ImFont* font = fonts_.of(face);
    std::string shortened;
    float width = width_of(face, words);
    if (width > room + 0.5F) {
        places_.cut.emplace_back(words);
        std::string_view kept = words;
        const float dots = width_of(face, kEllipsis);
        while (!kept.empty() && width_of(face, kept) + dots > room) {
            kept = without_last_character(kept);
        }
        shortened = std::string(kept) + std::string(kEllipsis);
        words = shortened;
        width = width_of(face, words);
    }
    const float from = align == Align::left ? x : align == Align::middle ? x - 0.5F * width : x - width;
    draw_line(from, y, *font, colour, words);
    if (is_number_words(words)) {
        note_number({from, y, width, font->FontSize}, words);
    }
    return width;
}

// NOLINTNEXTLINE(readability-convert-member-functions-to-static): of the window that this pen draws into
bool Pen::under_mouse(const Rect& rect) const {
    const ImVec2 mouse = ImGui::GetMousePos();
    return rect.contains(mouse.x, mouse.y) && ImGui::IsWindowHovered(ImGuiHoveredFlags_AllowWhenBlockedByActiveItem) &&
           ImGui::IsMouseHoveringRect({rect.x, rect.y}, {rect.right(), rect.bottom()}); // in what is not scrolled away
}

void Pen::note_number(const Rect& rect, std::string_view words) const {
    if (under_mouse(rect.inset(-px(3), -px(2)))) {
        places_.number = words;
    }
}

void Pen::hint(const Rect& rect, std::string_view words) const {
    if (under_mouse(rect)) {
        tip(words);
    }
}

void Pen::draw_line(float x, float y, const ImFont& font, ImU32 colour, std::string_view words) const {
    for (const char32_t character : characters_of(words)) {
        if (font.FindGlyphNoFallback(static_cast<ImWchar>(character)) == nullptr) {
            places_.unprintable.insert(character);
        }
    }
    list_->AddText(&font, font.FontSize, {std::round(x), std::round(y)}, colour, words.data(),
                   words.data() + words.size());
}

float Pen::wrapped(float x, float y, float room, Face face, ImU32 colour, std::string_view words) const {
    const ImFont& font = *fonts_.of(face);
    float at = y;
    for (const std::string& line : wrapped_lines(words, room, [&](std::string_view w) { return width_of(face, w); })) {
        draw_line(x, at, font, colour, line);
        at += font.FontSize;
    }
    return at - y;
}

float Pen::wrapped_height(float room, Face face, std::string_view words) const {
    const auto lines = wrapped_lines(words, room, [&](std::string_view w) { return width_of(face, w); });
    return static_cast<float>(lines.size()) * fonts_.of(face)->FontSize;
}

void Pen::verdict_mark(float x, float y, float size, Verdict verdict) const {
    const ImU32 ink = mark_colour(verdict);
    const auto bar = [&](float top, float high) {
        list_->AddRectFilled({x, y + top * size}, {x + size, y + (top + high) * size}, ink);
    };
    switch (verdict) {
    case Verdict::go:
        bar(0.0F, 0.2F);
        bar(0.8F, 0.2F);
        break;
    case Verdict::marginal:
        bar(0.0F, 0.43F);
        bar(0.57F, 0.43F);
        outline({x, y, size, 0.43F * size}, colour::tight_word, 1);
        outline({x, y + 0.57F * size, size, 0.43F * size}, colour::tight_word, 1);
        break;
    case Verdict::no_go:
        bar(0.0F, 1.0F);
        break;
    case Verdict::not_checked: {
        const float dash = std::max(size / scale_ / 7.0F, 1.5F);
        dashed(x, y, x + size, y, ink, 1.5F, dash);
        dashed(x + size, y, x + size, y + size, ink, 1.5F, dash);
        dashed(x + size, y + size, x, y + size, ink, 1.5F, dash);
        dashed(x, y + size, x, y, ink, 1.5F, dash);
        break;
    }
    }
}

Pressable Pen::pressable(const char* id, const Rect& rect) const {
    if (rect.width < 1 || rect.height < 1) {
        return {};
    }
    ImGui::SetCursorScreenPos({rect.x, rect.y});
    Pressable result;
    result.pressed = ImGui::InvisibleButton(id, {rect.width, rect.height});
    result.hovered = ImGui::IsItemHovered();
    result.held = ImGui::IsItemActive();
    return result;
}

bool Pen::button(const char* id, const Rect& rect, std::string_view words, bool chosen, const char* tip_words,
                 Face face) const {
    const Pressable press = pressable(id, rect);
    places_.note(id, rect);
    if (press.hovered || press.held) {
        fill(rect, press.held ? colour::accent_pale : colour::hover, 2);
        ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
    }
    const float y = rect.middle_y() - 0.5F * height_of(face);
    text(rect.middle_x(), y, face, chosen ? colour::accent : colour::ink, words, rect.width, Align::middle);
    if (chosen) {
        const float width = std::min(width_of(face, words), rect.width);
        fill({rect.middle_x() - 0.5F * width, rect.bottom() - px(4), width, px(2)}, colour::accent);
    }
    if (press.hovered && tip_words != nullptr) {
        tip(tip_words);
    }
    return press.pressed;
}

bool Pen::answer(const char* id, const Rect& rect, std::string_view words, bool main, bool bad) const {
    const Pressable press = pressable(id, rect);
    places_.note(id, rect);
    const ImU32 paint = bad ? colour::foul_word : colour::accent;
    if (main) {
        fill(rect, press.hovered ? mixed(paint, colour::ink, 0.25F) : paint, 2);
    } else {
        fill(rect, press.hovered ? colour::accent_pale : colour::card, 2);
        outline(rect, paint, 1, 2);
    }
    if (press.hovered) {
        ImGui::SetMouseCursor(ImGuiMouseCursor_Hand);
    }
    text(rect.middle_x(), rect.middle_y() - 0.5F * height_of(Face::text), Face::text, main ? colour::on_accent : paint,
         words, rect.width, Align::middle);
    return press.pressed;
}

void Pen::tip(std::string_view words) const {
    ImGui::PushStyleVar(ImGuiStyleVar_WindowPadding, {px(9), px(7)});
    ImGui::BeginTooltip();
    ImGui::PushFont(fonts_.small);
    ImGui::PushTextWrapPos(px(360));
    ImGui::TextUnformatted(words.data(), words.data() + words.size());
    ImGui::PopTextWrapPos();
    ImGui::PopFont();
    ImGui::EndTooltip();
    ImGui::PopStyleVar();
}

} // namespace evenclose
