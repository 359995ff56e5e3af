#include "scene/mesh/formats/file_state.hpp"

#include <cerrno>
#include <chrono>
#include <csignal>
#include <ctime>
#include <fcntl.h>
#include <sys/stat.h>
#include <thread>
#include <unistd.h>

namespace evenclose {
namespace {

using namespace std::chrono_literals;

// A program may keep a file open for writing that it is long done with: one that it wrote into so long ago is whole.
constexpr std::int64_t kLongestWriting_ns = 10'000'000'000;
// Files with a time ahead of the clock come from other machines, and are not waited for.
constexpr std::int64_t kLongestTick_ns = 50'000'000;

std::int64_t nanoseconds(const timespec& time) { return std::int64_t{time.tv_sec} * 1'000'000'000 + time.tv_nsec; }

/// By the clock that files are stamped with.
std::int64_t now_ns() {
    timespec now{};
    ::clock_gettime(CLOCK_REALTIME_COARSE, &now);
    return nanoseconds(now);
}

/// A lease for reading is given only where nobody has the file open for writing; it is given back at once. Who opens it between
/// waits for that, and this process is told by a signal, which is to be one that nobody minds.
bool open_for_writing(int descriptor) {
    ::fcntl(descriptor, F_SETSIG, SIGURG);
    if (::fcntl(descriptor, F_SETLEASE, F_RDLCK) == 0) {
        ::fcntl(descriptor, F_SETLEASE, F_UNLCK);
        return false;
    }
    return errno == EAGAIN;
}

} // namespace

std::optional<FileState> FileState::of(int descriptor) {
    struct stat about {};
    if (::fstat(descriptor, &about) != 0) {
        return std::nullopt;
    }
    FileState state(about.st_size > 0 ? static_cast<std::size_t>(about.st_size) : 0, nanoseconds(about.st_mtim));
    std::int64_t age_ns = now_ns() - state.written_ns_;
    while (age_ns <= 0 && age_ns > -kLongestTick_ns) {
        std::this_thread::sleep_for(1ms);
        age_ns = now_ns() - state.written_ns_;
    }
    // In this order: what is written from here on has another time, and what is being written to has a writer.
    state.being_written_ = age_ns < kLongestWriting_ns && age_ns > -kLongestWriting_ns && open_for_writing(descriptor);
    return state;
}

bool FileState::being_written(const std::filesystem::path& file) {
    const int descriptor = ::open(file.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK);
    if (descriptor < 0) {
        return false;
    }
    const std::optional<FileState> state = of(descriptor);
    ::close(descriptor);
    return state && state->being_written_;
}

bool FileState::lasts(int descriptor) const {
    struct stat about {};
    return !being_written_ && ::fstat(descriptor, &about) == 0 && static_cast<std::size_t>(about.st_size) == size_ &&
           nanoseconds(about.st_mtim) == written_ns_;
}

} // namespace evenclose
