// viewer/app/recovery.hpp: unsaved work, kept beside the documents and offered again after the program was stopped.
//
// Each window has a session of its own in the state folder: a file with the edited texts, written whole or not at all, and a
// locked file (flock(2)) that says its window lives. The kernel lets go of the lock however the program ends, so a
// session whose lock can be taken was left behind. Lengths stand before each text, since a document's comments may hold
// bytes that are no UTF-8 and must come back as they were.
#pragma once

#include "viewer/app/edited_documents.hpp"

#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace evenclose {

// Work of so many seconds is lost at most: half for waiting, the rest for a slow disk.
inline constexpr double kMostLost_s = 5.0;
inline constexpr double kAutosave_s = 2.0;

/// What is kept of a window's documents.
struct KeptWork {
    std::filesystem::path setup;
    DocumentTexts texts; // the unsaved ones
    DocumentTexts saved; // the same as they were on the disk; those that were there
};
[[nodiscard]] std::string kept_bytes(const KeptWork& work);
/// None if they are not what kept_bytes() makes.
[[nodiscard]] std::optional<KeptWork> read_kept(std::string_view bytes);

struct LeftBehind {
    std::filesystem::path file; // the session's
    std::filesystem::file_time_type when;
    KeptWork work;
};

class Recovery {
public:
    /// `folder` empty: nothing is kept.
    explicit Recovery(std::filesystem::path folder);
    /// Leaves what is kept, as if the program had been stopped.
    ~Recovery();
    Recovery(const Recovery&) = delete;
    Recovery& operator=(const Recovery&) = delete;

    /// Keeps what is unsaved, or takes the file away when nothing is. Faults: one clear line.
    /// Threads: one at a time, any.
    [[nodiscard]] std::optional<std::string> keep(const KeptWork& work);
    /// The session ends well: its files go.
    void end();
    /// Says which documents are open in this window, for others to see.
    void says_open(const std::vector<std::filesystem::path>& files);
    /// Those of `files` that a living window other than this has open.
    [[nodiscard]] std::vector<std::filesystem::path>
    open_elsewhere(const std::vector<std::filesystem::path>& files) const;

    /// Of sessions that ended without being asked, the newest first. Files that cannot be read are left alone.
    [[nodiscard]] std::vector<LeftBehind> left_behind() const;
    void discard(const LeftBehind& left) const;

private:
    std::filesystem::path folder_, name_; // name_: of the session's files, less their endings
    int lock_ = -1;
};

} // namespace evenclose
