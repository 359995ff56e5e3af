// viewer/app/guide.hpp: the guide inside the window: assets/guide/window.md, built into the program, in chapters.
//
// Of Markdown (CommonMark 0.30) what that page uses: headings, paragraphs, lists by "- ", `code`, **strong**, indented and
// fenced code. Pictures are left out.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace evenclose {

struct GuideBlock {
    enum class Kind { paragraph, item, code } kind = Kind::paragraph;
    std::string words; // one line; code keeps its lines
};
struct GuideChapter {
    std::string title;
    std::vector<GuideBlock> blocks;
};

/// What stands before the first "## " is no chapter.
[[nodiscard]] std::vector<GuideChapter> chapters_of(std::string_view markdown);

[[nodiscard]] std::string_view guide_text(); // made by embed_guide.cmake
[[nodiscard]] const std::vector<GuideChapter>& guide_chapters();

} // namespace evenclose
