#include "viewer/app/file_watch.hpp"

#include "scene/documents/source_file.hpp"
#include "scene/mesh/formats/file_state.hpp"

#include <poll.h>
#include <sys/eventfd.h>
#include <sys/inotify.h>
#include <sys/vfs.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <atomic>
#include <cstring>
#include <mutex>
#include <optional>
#include <thread>
#include <utility>
#include <variant>

namespace evenclose {
namespace {

namespace fs = std::filesystem;
using Clock = std::chrono::steady_clock;
using std::chrono::milliseconds;

constexpr std::uint32_t kEvents =
    IN_CLOSE_WRITE | IN_MODIFY | IN_CREATE | IN_DELETE | IN_MOVED_TO | IN_MOVED_FROM | IN_DELETE_SELF | IN_MOVE_SELF;

/// Of folders on other machines the kernel tells only what this machine does to them (inotify(7), "Limitations").
bool tells_all(const fs::path& folder) {
    // linux/magic.h and statfs(2): NFS, SMB, SMB2, CIFS, 9p, FUSE, Ceph, AFS, Coda, NCP.
    constexpr std::array<std::uint32_t, 10> kElsewhere{0x6969,     0x517B,     0xFE534D42, 0xFF534D42, 0x01021997,
                                                       0x65735546, 0x00C36400, 0x5346414F, 0x73757245, 0x564C};
    struct statfs told {};
    return ::statfs(folder.c_str(), &told) == 0 &&
           std::find(kElsewhere.begin(), kElsewhere.end(), static_cast<std::uint32_t>(told.f_type)) == kElsewhere.end();
}

struct Pending {
    FileStamp stamp;
    Clock::time_point since;
};

} // namespace

struct FileWatch::Inner {
    std::function<void()> wake;
    Pace pace;
    int events = -1, call = -1; // inotify's, and an eventfd that wakes the thread
    std::mutex mutex;           // guards the next four
    bool closing = false;
    std::optional<std::pair<FileStamps, DocumentTexts>> wanted;
    std::vector<ChangedFile> news;
    std::atomic<std::size_t> folder_count{0};
    // The thread's own.
    FileStamps seen;
    DocumentTexts known;
    std::map<fs::path, Pending> pending;
    std::map<fs::path, int> folders; // -1: it could not be listened at
    bool all_told = true;
    std::thread thread;

    void ring() const {
        const std::uint64_t one = 1;
        [[maybe_unused]] const ssize_t told = ::write(call, &one, sizeof one); // a full counter wakes as well
    }

    void run() {
        Clock::time_point looked = Clock::now();
        bool look = true;
        while (true) {
            {
                const std::lock_guard lock(mutex);
                if (closing) {
                    return;
                }
                if (wanted) {
                    seen = std::move(wanted->first);
                    known = std::move(wanted->second);
                    wanted.reset();
                    pending.clear();
                    look = true;
                }
            }
            if (look) {
                listen();
                looked = Clock::now();
            }
            look_at_all();
            const milliseconds every = all_told ? pace.looks : pace.looks_often;
            const auto left = std::chrono::duration_cast<milliseconds>(looked + every - Clock::now());
            const milliseconds patience =
                seen.empty() ? milliseconds(-1)
                             : std::max(pending.empty() ? left : std::min(left, pace.still / 4), milliseconds(1));
            look = wait(patience) || Clock::now() - looked >= every;
        }
    }

    /// Listens at the folders of all files, and at those that links lead to; lets go of others.
    void listen() {
        std::map<fs::path, int> wanted_folders;
        all_told = true;
        for (const auto& [file, stamp] : seen) {
            std::error_code fault;
            wanted_folders.emplace(file.parent_path(), -1);
            const fs::path real = fs::weakly_canonical(file, fault);
            if (!fault) {
                wanted_folders.emplace(real.parent_path(), -1);
            }
        }
        for (const auto& [folder, number] : folders) {
            if (!wanted_folders.contains(folder) && number >= 0) {
                ::inotify_rm_watch(events, number);
            }
        }
        std::size_t count = 0;
        for (auto& [folder, number] : wanted_folders) {
            // Asked again each time: a folder that was taken away and made anew has another number.
            number = events >= 0 ? ::inotify_add_watch(events, folder.c_str(), kEvents) : -1;
            count += number >= 0 ? 1 : 0;
            all_told = all_told && number >= 0 && tells_all(folder);
        }
        folders = std::move(wanted_folders);
        folder_count = count;
    }

    /// True where the folders themselves may have changed.
    [[nodiscard]] bool wait(milliseconds patience) const {
        std::array<pollfd, 2> ready{pollfd{call, POLLIN, 0}, pollfd{events, POLLIN, 0}};
        ::poll(ready.data(), events >= 0 ? 2 : 1, static_cast<int>(patience.count()));
        if ((ready[0].revents & POLLIN) != 0) {
            std::uint64_t rung = 0;
            [[maybe_unused]] const ssize_t count = ::read(call, &rung, sizeof rung);
        }
        bool folders_changed = false;
        alignas(inotify_event) std::array<char, 16384> bytes{};
        while (events >= 0) {
            const ssize_t count = ::read(events, bytes.data(), bytes.size());
            if (count <= 0) {
                break;
            }
            for (ssize_t at = 0; at < count;) {
                inotify_event event{};
                std::memcpy(&event, bytes.data() + at, sizeof event);
                folders_changed =
                    folders_changed ||
                    (event.mask & (IN_IGNORED | IN_DELETE_SELF | IN_MOVE_SELF | IN_Q_OVERFLOW | IN_ISDIR)) != 0;
                at += static_cast<ssize_t>(sizeof event + event.len);
            }
        }
        std::this_thread::sleep_for(milliseconds(5)); // a busy folder need not be looked at for every byte
        return folders_changed;
    }

    void look_at_all() {
        std::vector<ChangedFile> found;
        std::vector<fs::path> written;
        const Clock::time_point now = Clock::now();
        for (auto& [file, before] : seen) {
            const FileStamp stamp = stamp_of(file);
            if (stamp == before) {
                pending.erase(file);
                continue;
            }
            const auto [at, fresh] = pending.try_emplace(file, Pending{stamp, now});
            if (!fresh && !(at->second.stamp == stamp)) {
                at->second = {stamp, now};
            }
            if (now - at->second.since >= (stamp.there ? pace.still : pace.gone)) {
                if (stamp.there && FileState::being_written(file)) {
                    continue; // asked again: when the writer is done, nothing else need change
                }
                before = stamp;
                pending.erase(at);
                written.push_back(file);
                tell(file, found);
            }
        }
        if (!written.empty()) {
            const std::lock_guard lock(mutex);
            if (wanted || closing) {
                return; // it was about files as they stood before; those that are watched now say it again
            }
            // What nobody has taken yet of a file that was written again is stale.
            std::erase_if(news, [&written](const ChangedFile& changed) {
                return std::find(written.begin(), written.end(), changed.file) != written.end();
            });
            news.insert(news.end(), found.begin(), found.end());
        }
        if (!found.empty()) {
            wake();
        }
    }

    void tell(const fs::path& file, std::vector<ChangedFile>& found) const {
        ChangedFile changed{file, false, nullptr};
        const auto document = known.find(document_id(file));
        if (document != known.end()) {
            changed.document = true;
            auto read = read_source_file(file);
            if (auto* text = std::get_if<std::string>(&read)) {
                if (document->second && *text == *document->second) {
                    return;
                }
                changed.text = std::make_shared<const std::string>(std::move(*text));
            }
        }
        found.push_back(std::move(changed));
    }
};

FileWatch::FileWatch(std::function<void()> wake, Pace pace) : inner_(std::make_unique<Inner>()) {
    inner_->wake = std::move(wake);
    inner_->pace = pace;
    inner_->events =
        ::inotify_init1(IN_NONBLOCK | IN_CLOEXEC); // -1: none left on this machine; then it is looked often
    inner_->call = ::eventfd(0, EFD_NONBLOCK | EFD_CLOEXEC);
    inner_->thread = std::thread([inner = inner_.get()] { inner->run(); });
}

FileWatch::~FileWatch() {
    {
        const std::lock_guard lock(inner_->mutex);
        inner_->closing = true;
    }
    inner_->ring();
    inner_->thread.join();
    for (const int number : {inner_->events, inner_->call}) {
        if (number >= 0) {
            ::close(number);
        }
    }
}

void FileWatch::watch(FileStamps seen, DocumentTexts known) {
    {
        const std::lock_guard lock(inner_->mutex);
        inner_->wanted.emplace(std::move(seen), std::move(known));
        inner_->news.clear();
    }
    inner_->ring();
}

std::vector<ChangedFile> FileWatch::take() {
    const std::lock_guard lock(inner_->mutex);
    return std::exchange(inner_->news, {});
}

std::size_t FileWatch::folders() const { return inner_->folder_count; }

} // namespace evenclose
