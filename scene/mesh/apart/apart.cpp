#include "scene/mesh/apart/apart.hpp"

#include "scene/mesh/apart/channel.hpp"
#include "scene/mesh/apart/child.hpp"
#include "scene/mesh/apart/helper.hpp"
#include "scene/mesh/apart/parcel.hpp"
#include "scene/mesh/apart/sanitized.hpp"
#include "scene/mesh/formats/read_mesh.hpp"

#include <fmt/format.h>

#include <spawn.h>
#include <sys/resource.h>
#include <sys/socket.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <csignal>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <iterator>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <string_view>
#include <system_error>
#include <utility>
#include <vector>

namespace evenclose {
namespace {

namespace fs = std::filesystem;

/// A helper ends with its channel. Waited for, since not every system has somebody who does that for the dead.
class RunningHelper {
public:
    RunningHelper(Handle orders, pid_t id) : orders_(std::move(orders)), id_(id), program_(::getpid()) {}
    ~RunningHelper() {
        orders_ = Handle();
        if (program_ == ::getpid()) { // and not a fork of the program, whose child it is not
            ::waitpid(id_, nullptr, 0);
        }
    }
    RunningHelper(const RunningHelper&) = delete;
    RunningHelper& operator=(const RunningHelper&) = delete;

    [[nodiscard]] const Handle& orders() const { return orders_; }
    [[nodiscard]] pid_t id() const { return id_; }
    /// One that does not answer any more. Every reading that waits for it begins once more with another.
    void stop() const {
        if (::waitpid(id_, nullptr, WNOHANG) == 0) { // still there
            ::kill(id_, SIGKILL);
        }
    }

private:
    Handle orders_;
    pid_t id_, program_;
};
using HelperInUse = std::shared_ptr<const RunningHelper>;

struct Started {
    std::mutex guard; // of the helper; what can start another is written once, before there is a second thread
    HelperInUse helper;
    std::vector<std::string> again;
};
std::optional<Started>& started() {
    static std::optional<Started> once;
    return once;
}

HelperInUse helper_in_use() {
    const std::scoped_lock lock(started()->guard);
    return started()->helper;
}

// The word by which a program that is started anew knows that it is to be a helper; the way to the program is then here.
constexpr const char* kHelpWord = "--read-meshes-apart";
constexpr int kWayToProgram = 3;

/// By the program's own file, since a program of several threads cannot well fork. The file is the one that runs, also if
/// another version of it lies in its place by now.
HelperInUse start_by_file(const std::vector<std::string>& words) {
    auto ends = channel();
    if (!ends) {
        return nullptr;
    }
    std::vector<char*> arguments;
    for (const std::string& word : words) {
        arguments.push_back(const_cast<char*>(word.c_str())); // NOLINT: is not written to
    }
    arguments.push_back(nullptr);
    posix_spawn_file_actions_t files;
    posix_spawnattr_t how;
    sigset_t none, all;
    sigemptyset(&none);
    sigfillset(&all);
    pid_t id = 0;
    // One that is there already is only made to stay open.
    const bool right = ::posix_spawn_file_actions_init(&files) == 0 && ::posix_spawnattr_init(&how) == 0 &&
                       ::posix_spawn_file_actions_adddup2(&files, ends->second.number(), kWayToProgram) == 0 &&
                       ::posix_spawnattr_setsigmask(&how, &none) == 0 &&
                       ::posix_spawnattr_setsigdefault(&how, &all) == 0 &&
                       ::posix_spawnattr_setflags(&how, POSIX_SPAWN_SETSIGMASK | POSIX_SPAWN_SETSIGDEF) == 0 &&
                       ::posix_spawn(&id, "/proc/self/exe", &files, &how, arguments.data(), environ) == 0;
    ::posix_spawn_file_actions_destroy(&files);
    ::posix_spawnattr_destroy(&how);
    return right ? std::make_shared<const RunningHelper>(std::move(ends->first), id) : nullptr;
}

/// Another in the place of `ended`, or the one that somebody else started there meanwhile; null if none can be.
HelperInUse another_helper(const HelperInUse& ended) {
    const std::scoped_lock lock(started()->guard);
    if (started()->helper == ended && !started()->again.empty()) {
        if (auto fresh = start_by_file(started()->again)) {
            ended->stop(); // it may hang instead of having ended
            started()->helper = std::move(fresh);
        }
    }
    return started()->helper == ended ? nullptr : started()->helper;
}

void end_helper() {
    const std::scoped_lock lock(started()->guard);
    started()->helper.reset();
}

bool is_way_to_program() {
    int kind = 0;
    socklen_t size = sizeof kind;
    return ::getsockopt(kWayToProgram, SOL_SOCKET, SO_TYPE, &kind, &size) == 0 && kind == SOCK_SEQPACKET;
}

bool one_thread() {
    std::error_code error;
    const auto threads = fs::directory_iterator("/proc/self/task", error);
    return error || std::distance(begin(threads), end(threads)) == 1;
}

// A mesh of more files than this is none.
constexpr int kMostBeside = 64;
// One helper may have ended before, another may be killed in the middle; whatever ends a third is the file's doing.
constexpr int kMostTries = 3;

constexpr const char* kWhatToDo = "nothing else was harmed; export it anew, best as binary STL";

std::string megabytes(std::uint64_t bytes) { return fmt::format("{} MB", (bytes + 999'999) / 1'000'000); }

/// Why there is no answer, by how the child ended.
std::string told_by(const Message& ended, const ReadingLimits& limits) {
    const int status = static_cast<int>(ended.number);
    if (ended.late) {
        return fmt::format("was not read within {} s, and the reading was stopped; {}", limits.wall_s, kWhatToDo);
    }
    if (WIFSIGNALED(status) && WTERMSIG(status) == SIGXCPU) {
        return fmt::format("takes more than {} s of computing to read, and the reading was stopped; {}", limits.cpu_s,
                           kWhatToDo);
    }
    if (WIFEXITED(status) && WEXITSTATUS(status) == kNoMemory) {
        return fmt::format("takes more than {} of memory to read, and the reading was stopped; {}",
                           megabytes(limits.memory_bytes), kWhatToDo);
    }
    if (WIFEXITED(status) && WEXITSTATUS(status) == kNoAnswer) {
        return fmt::format("makes a mesh of more than {}, or there is no memory for it; {}",
                           megabytes(limits.answer_bytes), kWhatToDo);
    }
    if (WIFSIGNALED(status)) {
        return fmt::format("made its reader crash (signal {}: {}): it is broken, or made to do harm; {}",
                           WTERMSIG(status), ::strsignal(WTERMSIG(status)), kWhatToDo);
    }
    return fmt::format("made its reader end without an answer ({}): it is broken, or made to do harm; {}",
                       WIFEXITED(status) ? WEXITSTATUS(status) : status, kWhatToDo);
}

/// A file beside a mesh takes memory and time to read as the mesh itself does.
void allow_more(pid_t child, const ReadingLimits& limits) {
    const rlimit cpu{limits.cpu_s, RLIM_INFINITY};
    ::prlimit(child, RLIMIT_CPU, &cpu, nullptr);
    if (!kSanitized) {
        const rlimit memory{limits.memory_bytes, RLIM_INFINITY};
        ::prlimit(child, RLIMIT_DATA, &memory, nullptr);
    }
}

} // namespace

namespace {

bool start(MeshReader reader, std::vector<std::string> again) {
    if (started()) {
        return true;
    }
    if (!one_thread()) {
        return false;
    }
    auto ends = channel();
    if (!ends) {
        return false;
    }
    const pid_t helper = ::fork();
    if (helper < 0) {
        return false;
    }
    if (helper == 0) {
        ends->first = Handle();
        run_helper(std::move(ends->second), reader);
    }
    started().emplace();
    started()->helper = std::make_shared<const RunningHelper>(std::move(ends->first), helper);
    started()->again = std::move(again);
    std::atexit(end_helper);
    return true;
}

/// Nothing if the helper ended meanwhile, by whatever cause.
std::optional<RawResult> asked(const RunningHelper& helper, const OpenFile& file, MeshFormat format,
                               const FilesBeside& beside, const std::optional<ReadingLimits>& limits) {
    auto ends = channel();
    if (!ends) {
        return NotRead{"cannot be read: too many files are open"};
    }
    const Handle mine = std::move(ends->first);
    tell_senders(mine);
    std::uint64_t bytes = file.size();
    ReadingOrder order{limits.value_or(reading_limits(format, bytes)), format};
    if (!send(helper.orders(), order_message(order), {file.descriptor(), ends->second.number()})) {
        return {};
    }
    ends->second = Handle(); // so that its end shows when the others have closed theirs
    int granted = 0;
    // Later than the helper would have stopped the child, the helper itself hangs.
    const auto until =
        std::chrono::steady_clock::now() + std::chrono::seconds(order.limits.wall_s + order.limits.grace_s);
    while (auto message = receive(mine, until)) {
        const bool from_helper = message->sender == helper.id();
        switch (message->kind) {
        case Message::Kind::file_beside: {
            Message answer;
            answer.kind = Message::Kind::file_beside;
            auto opened = ++granted > kMostBeside ? std::variant<OpenFile, std::string>("names too many files")
                                                  : beside(message->words);
            if (const auto* why = std::get_if<std::string>(&opened)) {
                answer.words = *why;
                send(mine, answer);
                break;
            }
            const auto& granted_file = std::get<OpenFile>(opened);
            bytes += granted_file.size();
            order.limits = reading_limits(format, bytes);
            allow_more(message->sender, order.limits);
            send(mine, answer, {granted_file.descriptor()});
            break;
        }
        case Message::Kind::answer: {
            if (message->handles.size() != 1) {
                return NotRead{std::string("made its reader answer nothing; ") + kWhatToDo};
            }
            auto taken = take_up(message->handles.front(), order.limits.answer_bytes);
            if (const auto* wrong = std::get_if<std::string>(&taken)) {
                return NotRead{fmt::format(
                    "made its reader give an answer that {}: it is broken, or made to do harm; {}", *wrong, kWhatToDo)};
            }
            return std::get<RawResult>(std::move(taken));
        }
        case Message::Kind::ended:
            if (from_helper) {
                return NotRead{told_by(*message, order.limits)};
            }
            break;
        case Message::Kind::cannot_begin:
            if (from_helper) {
                return NotRead{fmt::format("cannot be read: no further process can be started ({})",
                                           std::strerror(static_cast<int>(message->number)))};
            }
            break;
        case Message::Kind::order:
            break;
        }
    }
    if (std::chrono::steady_clock::now() < until) {
        return {};
    }
    const std::scoped_lock lock(started()->guard);
    helper.stop(); // whoever asks next finds it ended
    Message late;
    late.late = true;
    return NotRead{told_by(late, order.limits)};
}

} // namespace

bool start_reading_apart(MeshReader reader) { return start(reader, {}); }

bool start_reading_apart(int argc, const char* const* argv, MeshReader reader) {
    if (argc == 2 && std::string_view(argv[1]) == kHelpWord && is_way_to_program()) {
        run_helper(Handle(kWayToProgram), reader);
    }
    return start(reader, {argc > 0 ? argv[0] : "evenclose", kHelpWord});
}

bool reads_apart() { return started().has_value(); }

RawResult read_apart(const OpenFile& file, MeshFormat format, const FilesBeside& beside,
                     const std::optional<ReadingLimits>& limits) {
    HelperInUse helper = helper_in_use();
    for (int tries = 0; tries < kMostTries; ++tries) {
        if (auto result = asked(*helper, file, format, beside, limits)) {
            return *std::move(result);
        }
        helper = another_helper(helper);
        if (helper == nullptr) {
            return NotRead{"cannot be read: the process that reads meshes has ended, and no other can be started; save "
                           "your work and start the program anew"};
        }
    }
    return NotRead{fmt::format("made the process that reads meshes end, {} times: it is broken, or made to do harm; {}",
                               kMostTries, kWhatToDo)};
}

} // namespace evenclose
