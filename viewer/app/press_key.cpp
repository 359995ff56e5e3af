#include "viewer/app/press_key.hpp"

#include "scene/documents/source_tree.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <string_view>

namespace evenclose {

namespace fs = std::filesystem;

std::string press_key(const fs::path& setup, const DocumentTexts& texts, const FileStamps& files) {
    const auto text = texts.find(document_id(setup));
    if (text == texts.end() || !text->second) {
        return {};
    }
    const SourceTree tree = read_source_tree(*text->second, "");
    if (!tree.root) {
        return {};
    }
    constexpr std::array<std::string_view, 3> beside{"name", "openings", "intermediate_platens"};
    std::string key;
    fs::path press;
    for (const SourceEntry& entry : tree.root->entries) {
        if (std::find(beside.begin(), beside.end(), entry.key) != beside.end()) {
            continue;
        }
        const SourceSpan& span = entry.value.span;
        key += entry.key + ":" + text->second->substr(span.begin, span.end - span.begin) + "\n";
        if (entry.key == "press") {
            press = setup.parent_path() / entry.value.text;
        }
    }
    if (const auto document = texts.find(document_id(press)); document != texts.end() && document->second) {
        key += *document->second;
    }
    for (const fs::path& file : files_behind(press, texts)) {
        const auto stamp = files.find(file);
        // Of the document itself its text is told, which may not have been saved.
        if (stamp != files.end() && document_id(file) != document_id(press)) {
            const FileStamp& told = stamp->second;
            key += fmt::format("\n{} {} {} {} {} {}", file.string(), told.there, told.device, told.number, told.bytes,
                               told.written_ns);
        }
    }
    return key;
}

} // namespace evenclose
