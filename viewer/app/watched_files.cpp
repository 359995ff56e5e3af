#include "viewer/app/watched_files.hpp"

#include "viewer/app/named_files.hpp"

#include <sys/stat.h>

#include <algorithm>
#include <chrono>
#include <system_error>
#include <thread>

namespace evenclose {
namespace {

namespace fs = std::filesystem;

// The kernel stamps files by a clock that ticks 100 to 1000 times a second (inode timestamps, clock_getres of
// CLOCK_REALTIME_COARSE); twice the coarsest.
constexpr std::chrono::milliseconds kTick{20};

fs::path plain(const fs::path& file) {
    std::error_code fault;
    const fs::path whole = fs::absolute(file, fault);
    return (fault ? file : whole).lexically_normal();
}

void add_behind(const fs::path& file, const DocumentTexts& texts, std::set<fs::path>& found) {
    if (!found.insert(plain(file)).second) {
        return;
    }
    const auto text = texts.find(document_id(file));
    if (text == texts.end()) {
        return;
    }
    const SourceTree tree = read_source_tree(*text->second, "");
    if (tree.root) {
        for (const NamedFile& named : named_files(*tree.root)) {
            add_behind(file.parent_path() / named.written, texts, found);
        }
    }
}

bool just_written(const FileStamps& stamps) {
    const auto now =
        std::chrono::duration_cast<std::chrono::nanoseconds>(std::chrono::system_clock::now().time_since_epoch())
            .count();
    const auto tick = std::chrono::nanoseconds(kTick).count();
    return std::any_of(stamps.begin(), stamps.end(), [&](const auto& entry) {
        const std::int64_t age = now - entry.second.written_ns;
        return entry.second.there && age >= 0 && age < tick;
    });
}

FileStamps stamps_of(const std::set<fs::path>& files) {
    FileStamps stamps;
    for (const fs::path& file : files) {
        stamps.emplace(file, stamp_of(file));
    }
    return stamps;
}

} // namespace

FileStamp stamp_of(const fs::path& file) {
    struct stat told {};
    if (::stat(file.c_str(), &told) != 0) {
        return {};
    }
    return {true, static_cast<std::uint64_t>(told.st_dev), static_cast<std::uint64_t>(told.st_ino),
            static_cast<std::uint64_t>(told.st_size),
            static_cast<std::int64_t>(told.st_mtim.tv_sec) * 1'000'000'000 + told.st_mtim.tv_nsec};
}

std::set<fs::path> files_behind(const fs::path& file, const DocumentTexts& texts) {
    std::set<fs::path> found;
    add_behind(file, texts, found);
    return found;
}

StampedTexts stamped_texts(const fs::path& file, const DocumentTexts& texts) {
    constexpr int kMostTries = 10; // of files that never rest the last state is as good as any
    std::set<fs::path> files = files_behind(file, gathered_texts(file, texts));
    StampedTexts all;
    for (int i = 0; i < kMostTries; ++i) {
        all.stamps = stamps_of(files);
        if (just_written(all.stamps)) {
            std::this_thread::sleep_for(kTick);
            continue;
        }
        all.texts = gathered_texts(file, texts);
        std::set<fs::path> again = files_behind(file, all.texts);
        if (again == files) {
            return all;
        }
        files = std::move(again);
    }
    all.stamps = stamps_of(files);
    all.texts = gathered_texts(file, texts);
    return all;
}

} // namespace evenclose
