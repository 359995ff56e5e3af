#include "viewer/ui/look.hpp"

#include <cmath>

namespace evenclose {
namespace {

Theme& theme_now() {
    static Theme theme = Theme::light;
    return theme;
}

ImVec4 vec4(ImU32 packed) { return ImGui::ColorConvertU32ToFloat4(packed); }

} // namespace

Theme theme_in_use() { return theme_now(); }

void use_theme(Theme theme) { theme_now() = theme; }

ImU32 word_colour(Verdict verdict) {
    switch (verdict) {
    case Verdict::go:
        return colour::ink;
    case Verdict::not_checked:
        return colour::graphite;
    case Verdict::marginal:
        return colour::tight_word;
    case Verdict::no_go:
        return colour::foul_word;
    }
    return colour::ink;
}

ImU32 mark_colour(Verdict verdict) {
    switch (verdict) {
    case Verdict::go:
        return colour::ink;
    case Verdict::not_checked:
        return colour::graphite;
    case Verdict::marginal:
        return colour::tight;
    case Verdict::no_go:
        return colour::foul;
    }
    return colour::ink;
}

ImU32 mixed(ImU32 from, ImU32 to, float share) {
    const ImVec4 a = vec4(from);
    const ImVec4 b = vec4(to);
    return ImGui::ColorConvertFloat4ToU32({std::lerp(a.x, b.x, share), std::lerp(a.y, b.y, share),
                                           std::lerp(a.z, b.z, share), std::lerp(a.w, b.w, share)});
}

void set_style(float scale) {
    ImGuiStyle style;
    style.WindowPadding = {0, 0};
    style.WindowBorderSize = 0;
    style.WindowRounding = 0;
    style.ChildBorderSize = 0;
    style.FrameRounding = 2;
    style.FramePadding = {8, 5};
    style.ItemSpacing = {6, 4};
    style.ScrollbarSize = 10;
    style.ScrollbarRounding = 2;
    style.GrabRounding = 2;
    style.PopupBorderSize = 1;
    style.ScaleAllSizes(scale);
    const auto set = [&](ImGuiCol item, ImU32 value) { style.Colors[item] = vec4(value); };
    set(ImGuiCol_Text, colour::ink);
    set(ImGuiCol_TextDisabled, colour::graphite);
    set(ImGuiCol_WindowBg, colour::board);
    set(ImGuiCol_ChildBg, rgb(0, 0));
    set(ImGuiCol_PopupBg, colour::card);
    set(ImGuiCol_Border, colour::pencil);
    set(ImGuiCol_FrameBg, colour::card);
    set(ImGuiCol_FrameBgHovered, colour::card);
    set(ImGuiCol_FrameBgActive, colour::card);
    set(ImGuiCol_ScrollbarBg, rgb(0, 0));
    set(ImGuiCol_ScrollbarGrab, colour::pencil);
    set(ImGuiCol_ScrollbarGrabHovered, colour::graphite);
    set(ImGuiCol_ScrollbarGrabActive, colour::accent);
    set(ImGuiCol_TextSelectedBg, colour::accent_pale);
    set(ImGuiCol_Header, colour::accent_pale);
    set(ImGuiCol_HeaderHovered, colour::accent_pale);
    set(ImGuiCol_HeaderActive, colour::accent_pale);
    set(ImGuiCol_NavHighlight, colour::accent);
    ImGui::GetStyle() = style;
}

} // namespace evenclose
