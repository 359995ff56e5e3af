#include "viewer/app/recovery.hpp"

#include "scene/documents/atomic_write.hpp"
#include "scene/documents/source_file.hpp"

#include <fmt/format.h>

#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

#include <algorithm>
#include <charconv>
#include <fstream>
#include <iterator>
#include <system_error>
#include <utility>

namespace evenclose {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view kHead = "evenclose kept work 1\n";
constexpr const char* kWork = ".work";
constexpr const char* kLock = ".lock";

void append(std::string& bytes, std::string_view word, std::string_view text) {
    bytes += fmt::format("{} {}\n", word, text.size());
    bytes += text;
    bytes += '\n';
}

/// Takes "word length\ntext\n" off the front.
std::optional<std::string_view> take(std::string_view& bytes, std::string_view word) {
    if (!bytes.starts_with(word) || bytes.size() <= word.size() || bytes[word.size()] != ' ') {
        return {};
    }
    const char* const begin = bytes.data() + word.size() + 1;
    const char* const end = bytes.data() + bytes.size();
    std::size_t length = 0;
    const auto [after, error] = std::from_chars(begin, end, length);
    if (error != std::errc{} || after == end || *after != '\n') {
        return {};
    }
    const auto rest = static_cast<std::size_t>(end - after) - 1;
    if (rest <= length || after[1 + length] != '\n') {
        return {};
    }
    const std::string_view text{after + 1, length};
    bytes.remove_prefix(static_cast<std::size_t>(after - bytes.data()) + length + 2);
    return text;
}

/// Opens and locks; -1 if another holds it.
int locked(const fs::path& file) {
    const int number = ::open(file.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0600);
    if (number >= 0 && ::flock(number, LOCK_EX | LOCK_NB) != 0) {
        ::close(number);
        return -1;
    }
    return number;
}

fs::path with_ending(fs::path name, const char* ending) { return name += ending; }

std::vector<fs::path> sessions_in(const fs::path& folder) {
    std::vector<fs::path> names;
    std::error_code fault;
    for (fs::directory_iterator at(folder, fault), end; !fault && at != end; at.increment(fault)) {
        if (at->path().extension() == kLock) {
            names.push_back(folder / at->path().stem());
        }
    }
    std::sort(names.begin(), names.end());
    return names;
}

} // namespace

std::string kept_bytes(const KeptWork& work) {
    std::string bytes{kHead};
    append(bytes, "setup", work.setup.string());
    for (const auto& [file, text] : work.texts) {
        append(bytes, "file", file.string());
        append(bytes, "text", *text);
        const auto saved = work.saved.find(file);
        if (saved != work.saved.end()) {
            append(bytes, "saved", *saved->second);
        }
    }
    bytes += "end\n"; // half a file has none
    return bytes;
}

std::optional<KeptWork> read_kept(std::string_view bytes) {
    if (!bytes.starts_with(kHead)) {
        return {};
    }
    bytes.remove_prefix(kHead.size());
    KeptWork work;
    const auto setup = take(bytes, "setup");
    if (!setup) {
        return {};
    }
    work.setup = *setup;
    while (bytes != "end\n") {
        const auto file = take(bytes, "file");
        const auto text = file ? take(bytes, "text") : std::nullopt;
        if (!text) {
            return {};
        }
        work.texts[*file] = std::make_shared<const std::string>(*text);
        if (const auto saved = take(bytes, "saved")) {
            work.saved[*file] = std::make_shared<const std::string>(*saved);
        }
    }
    return work;
}

Recovery::Recovery(fs::path folder) : folder_(std::move(folder)) {
    for (int i = 0; !folder_.empty() && i < 1000; ++i) {
        name_ = folder_ / fmt::format("window-{}-{}", ::getpid(), i);
        // A program of the same number may have left work under this name: that is offered, not written over.
        std::error_code ignored;
        if (fs::exists(with_ending(name_, kWork), ignored)) {
            continue;
        }
        lock_ = locked(with_ending(name_, kLock));
        if (lock_ >= 0) {
            return;
        }
    }
    folder_.clear();
}

Recovery::~Recovery() {
    if (lock_ >= 0) {
        ::close(lock_);
    }
}

void Recovery::end() {
    if (lock_ >= 0) {
        std::error_code ignored;
        fs::remove(with_ending(name_, kWork), ignored);
        fs::remove(with_ending(name_, kLock), ignored);
        ::close(std::exchange(lock_, -1));
        folder_.clear();
    }
}

std::optional<std::string> Recovery::keep(const KeptWork& work) {
    if (folder_.empty()) {
        return {};
    }
    const fs::path file = with_ending(name_, kWork);
    if (work.texts.empty()) {
        std::error_code fault;
        fs::remove(file, fault);
        return fault ? std::optional(file.string() + ": " + fault.message()) : std::nullopt;
    }
    return write_file_atomically(file, kept_bytes(work));
}

void Recovery::says_open(const std::vector<fs::path>& files) {
    if (lock_ < 0) {
        return;
    }
    std::string lines;
    for (const fs::path& file : files) {
        lines += file.string() + "\n";
    }
    // Into the locked file itself: a new one in its place would not be locked. On a full disk other windows do not hear of
    // these files; work is not lost by it.
    [[maybe_unused]] const bool told =
        ::ftruncate(lock_, 0) == 0 && ::pwrite(lock_, lines.data(), lines.size(), 0) >= 0;
}

std::vector<fs::path> Recovery::open_elsewhere(const std::vector<fs::path>& files) const {
    std::vector<fs::path> found;
    for (const fs::path& session : sessions_in(folder_)) {
        if (session == name_) {
            continue;
        }
        const int lock = locked(with_ending(session, kLock));
        if (lock >= 0) { // nobody lives there
            ::close(lock);
            continue;
        }
        std::ifstream in(with_ending(session, kLock));
        for (std::string line; std::getline(in, line);) {
            if (std::find(files.begin(), files.end(), fs::path(line)) != files.end() &&
                std::find(found.begin(), found.end(), fs::path(line)) == found.end()) {
                found.emplace_back(line);
            }
        }
    }
    return found;
}

std::vector<LeftBehind> Recovery::left_behind() const {
    std::vector<LeftBehind> all;
    for (const fs::path& session : sessions_in(folder_)) {
        const fs::path file = with_ending(session, kWork);
        std::error_code fault;
        const int lock = session == name_ ? -1 : locked(with_ending(session, kLock));
        if (lock < 0) {
            continue;
        }
        if (fs::exists(file, fault)) {
            const auto bytes = read_source_file(file);
            const auto* text = std::get_if<std::string>(&bytes);
            auto work = text != nullptr ? read_kept(*text) : std::nullopt;
            const auto when = fs::last_write_time(file, fault);
            if (work && !work->texts.empty()) {
                all.push_back({file, when, std::move(*work)});
            }
        } else {
            fs::remove(with_ending(session, kLock), fault); // ended with nothing unsaved
        }
        ::close(lock);
    }
    std::sort(all.begin(), all.end(), [](const LeftBehind& a, const LeftBehind& b) { return a.when > b.when; });
    return all;
}

void Recovery::discard(const LeftBehind& left) const {
    std::error_code ignored;
    fs::remove(left.file, ignored);
    fs::remove(fs::path(left.file).replace_extension(kLock), ignored);
}

} // namespace evenclose
