// viewer/app/file_watch.hpp: notices when a file that the open set-up hangs on changes on the disk.
//
// inotify(7) on the folders, so that a file that is renamed over another one is seen too; and a look at every file now and
// then, since folders on other machines tell nothing. A change is told once the file has stood still for a moment: most
// programs write in several goes. All looking and reading is done on a thread of its own, for a disk may take its time.
#pragma once

#include "viewer/app/watched_files.hpp"

#include <chrono>
#include <functional>
#include <memory>
#include <vector>

namespace evenclose {

struct ChangedFile {
    std::filesystem::path file;
    bool document = false;                   // one of those that are edited here
    std::shared_ptr<const std::string> text; // of a document, as it is now; null if it cannot be read
};

class FileWatch {
public:
    struct Pace {
        std::chrono::milliseconds still{300};    // a file that did not change for so long is taken as written
        std::chrono::milliseconds gone{1000};    // one that is not there may be about to be renamed into place
        std::chrono::milliseconds looks{15'000}; // where the folders tell of changes; else
        std::chrono::milliseconds looks_often{2'000};
    };
    /// `wake` is called from the watch's thread whenever there is something to take.
    explicit FileWatch(std::function<void()> wake) : FileWatch(std::move(wake), Pace{}) {}
    FileWatch(std::function<void()> wake, Pace pace);
    ~FileWatch();
    FileWatch(const FileWatch&) = delete;
    FileWatch& operator=(const FileWatch&) = delete;

    /// From now on these, as they stood when they were read. A document whose text is the one in `known` (by
    /// document_id()) has not changed, whatever its stamp says.
    void watch(FileStamps seen, DocumentTexts known);
    /// What changed since; each file once, as it is now.
    [[nodiscard]] std::vector<ChangedFile> take();
    /// Descriptors of folders that are listened at, for whoever wants to know that they do not grow.
    [[nodiscard]] std::size_t folders() const;

private:
    struct Inner;
    std::unique_ptr<Inner> inner_;
};

} // namespace evenclose
