#include "scene/mesh/apart/apart.hpp"

#include "scene/mesh/apart/channel.hpp"
#include "scene/mesh/apart/child.hpp"
#include "scene/mesh/apart/helper.hpp"
#include "scene/mesh/apart/parcel.hpp"
#include "scene/mesh/apart/sanitized.hpp"
#include "scene/mesh/formats/read_mesh.hpp"

#include <fmt/format.h>

#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <chrono>
#include <csignal>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <iterator>
#include <optional>
#include <system_error>
#include <utility>

namespace evenclose {
namespace {

namespace fs = std::filesystem;

struct Started {
    Handle orders;
    pid_t helper = 0, program = 0;
};
/// Written once, before there is a second thread.
std::optional<Started>& started() {
    static std::optional<Started> once;
    return once;
}

/// The helper ends with its channel. Waited for, since not every system has somebody who does that for the dead.
void end_helper() {
    if (started() && started()->program == ::getpid()) {
        started()->orders = Handle();
        ::waitpid(started()->helper, nullptr, 0);
    }
}

bool one_thread() {
    std::error_code error;
    const auto threads = fs::directory_iterator("/proc/self/task", error);
    return error || std::distance(begin(threads), end(threads)) == 1;
}

// A mesh of more files than this is none.
constexpr int kMostBeside = 64;
// So much later than the helper would have stopped the child, the helper itself is not there.
constexpr std::chrono::seconds kGrace{20};

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

bool start_reading_apart() { return start_reading_apart(read_mesh); }

bool start_reading_apart(MeshReader reader) {
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
    started() = Started{std::move(ends->first), helper, ::getpid()};
    std::atexit(end_helper);
    return true;
}

bool reads_apart() { return started().has_value(); }

RawResult read_apart(const OpenFile& file, MeshFormat format, const FilesBeside& beside,
                     const std::optional<ReadingLimits>& limits) {
    const NotRead no_helper{"cannot be read: the process that reads meshes has ended; save your work and start the "
                            "program anew"};
    auto ends = channel();
    if (!ends) {
        return NotRead{"cannot be read: too many files are open"};
    }
    const Handle mine = std::move(ends->first);
    tell_senders(mine);
    std::uint64_t bytes = file.size();
    ReadingOrder order{limits.value_or(reading_limits(format, bytes)), format};
    if (!send(started()->orders, order_message(order), {file.descriptor(), ends->second.number()})) {
        return no_helper;
    }
    ends->second = Handle(); // so that its end shows when the others have closed theirs
    int granted = 0;
    const auto until = std::chrono::steady_clock::now() + std::chrono::seconds(order.limits.wall_s) + kGrace;
    while (auto message = receive(mine, until)) {
        const bool from_helper = message->sender == started()->helper;
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
    return no_helper;
}

} // namespace evenclose
