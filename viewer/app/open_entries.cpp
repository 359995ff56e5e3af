#include "viewer/app/open_entries.hpp"

#include <algorithm>
#include <cstdlib>
#include <system_error>

namespace evenclose {
namespace {

namespace fs = std::filesystem;

using Rank = FolderEntry::Rank;

// More than this nobody reads through; typing narrows it down.
constexpr std::size_t kMostEntries = 400;

} // namespace

fs::path typed_path(const std::string& whole) {
    // The field comes filled with a folder; who types a whole path behind it means that path.
    const std::size_t again = std::max({whole.rfind("//") + 1, whole.rfind("/~/") + 1, std::size_t{0}});
    const std::string typed = whole.substr(again);
    if (typed == "~" || typed.starts_with("~/")) {
        if (const char* home = std::getenv("HOME")) {
            return fs::path(home) / typed.substr(std::min<std::size_t>(2, typed.size()));
        }
    }
    return typed;
}

std::vector<FolderEntry> matching_entries(const std::string& typed) {
    const fs::path whole = typed_path(typed);
    const std::string start =
        typed.empty() || typed.ends_with('/') || typed.ends_with('~') ? std::string() : whole.filename().string();
    fs::path folder = start.empty() ? whole : whole.parent_path();
    if (folder.empty()) {
        folder = ".";
    }
    std::vector<FolderEntry> entries;
    std::error_code fault;
    for (fs::directory_iterator at(folder, fs::directory_options::skip_permission_denied, fault), end;
         !fault && at != end && entries.size() < kMostEntries; at.increment(fault)) {
        const std::string name = at->path().filename().string();
        std::error_code ignored;
        const bool is_folder = at->is_directory(ignored);
        if (!name.starts_with(start) || (name.starts_with('.') && !start.starts_with('.')) ||
            (!is_folder && at->path().extension() != ".json")) {
            continue;
        }
        const Rank rank = is_folder ? Rank::folder : name.ends_with(".set-up.json") ? Rank::setup : Rank::other;
        entries.push_back({is_folder ? name + "/" : name, at->path(), rank});
    }
    std::sort(entries.begin(), entries.end(), [](const FolderEntry& a, const FolderEntry& b) {
        return a.rank != b.rank ? a.rank < b.rank : a.name < b.name;
    });
    const fs::path full = fs::absolute(folder, fault).lexically_normal();
    const fs::path here = full.has_filename() ? full : full.parent_path();
    if (start.empty() && here.has_parent_path() && here != here.root_path()) {
        entries.insert(entries.begin(), {"../", here.parent_path(), Rank::folder});
    }
    return entries;
}

} // namespace evenclose
