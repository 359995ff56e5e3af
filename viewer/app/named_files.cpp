#include "viewer/app/named_files.hpp"

#include <string_view>

namespace evenclose {
namespace {

/// A set-up's costs know a "press" and a "mold" too, so the key alone does not tell.
bool names_file(std::string_view place, std::string_view key) {
    return key == "mesh" || key == "file" || place == "press" ||
           (place.starts_with("openings[") && place.ends_with("].mold"));
}

void collect(const SourceValue& value, const std::string& place, std::vector<NamedFile>& found) {
    for (const SourceEntry& entry : value.entries) {
        const std::string at = place_of(place, entry.key);
        if (entry.value.kind == SourceValue::Kind::text && names_file(at, entry.key)) {
            found.push_back({at, entry.value.text});
        }
        collect(entry.value, at, found);
    }
    for (std::size_t i = 0; i < value.items.size(); ++i) {
        collect(value.items[i], place_of(place, i), found);
    }
}

} // namespace

std::vector<NamedFile> named_files(const SourceValue& root) {
    std::vector<NamedFile> found;
    collect(root, "", found);
    return found;
}

} // namespace evenclose
