#include "viewer/app/guide.hpp"

#include <utility>

namespace evenclose {
namespace {

std::string_view trimmed(std::string_view line) {
    while (!line.empty() && (line.front() == ' ' || line.front() == '\t')) {
        line.remove_prefix(1);
    }
    while (!line.empty() && (line.back() == ' ' || line.back() == '\t' || line.back() == '\r')) {
        line.remove_suffix(1);
    }
    return line;
}

/// Less its marks: **strong**, `code`, and pictures as a whole. Keys and numbers speak for themselves.
std::string plain(std::string_view line) {
    std::string words;
    for (std::size_t i = 0; i < line.size(); ++i) {
        if (line.substr(i, 2) == "![") {
            const std::size_t end = line.find(')', i);
            i = end == std::string_view::npos ? line.size() : end;
        } else if (line.substr(i, 2) == "**") {
            ++i;
        } else if (line[i] != '`') {
            words += line[i];
        }
    }
    return std::string(trimmed(words));
}

} // namespace

std::vector<GuideChapter> chapters_of(std::string_view markdown) {
    using Kind = GuideBlock::Kind;
    std::vector<GuideChapter> chapters;
    bool fenced = false;
    bool goes_on = false; // the line before belongs to the same block
    while (!markdown.empty()) {
        const std::size_t end = markdown.find('\n');
        const std::string_view line = markdown.substr(0, end);
        markdown.remove_prefix(end == std::string_view::npos ? markdown.size() : end + 1);
        const std::string_view words = trimmed(line);
        if (words.starts_with("```")) {
            fenced = !fenced;
            goes_on = false;
            continue;
        }
        if (!fenced && line.starts_with("#")) {
            if (line.starts_with("## ")) {
                chapters.push_back({plain(line.substr(3)), {}});
            }
            goes_on = false;
            continue;
        }
        if (chapters.empty() || (words.empty() && !fenced)) {
            goes_on = false;
            continue;
        }
        std::vector<GuideBlock>& blocks = chapters.back().blocks;
        const bool code = fenced || (!goes_on && line.starts_with("    "));
        if (code || (goes_on && !blocks.empty() && blocks.back().kind == Kind::code && line.starts_with("    "))) {
            if (goes_on && !blocks.empty() && blocks.back().kind == Kind::code) {
                blocks.back().words += "\n" + std::string(line);
            } else {
                blocks.push_back({Kind::code, std::string(line)});
            }
            goes_on = true;
            continue;
        }
        const bool item = words.starts_with("- ");
        std::string told = plain(item ? words.substr(2) : words);
        if (told.empty()) {
            continue;
        }
        if (goes_on && !item && !blocks.empty()) {
            blocks.back().words += " " + told;
        } else {
            blocks.push_back({item ? Kind::item : Kind::paragraph, std::move(told)});
        }
        goes_on = true;
    }
    return chapters;
}

const std::vector<GuideChapter>& guide_chapters() {
    static const std::vector<GuideChapter> chapters = chapters_of(guide_text());
    return chapters;
}

} // namespace evenclose
