#include "scene/mesh/apart/child.hpp"

#include "scene/mesh/apart/parcel.hpp"
#include "scene/mesh/apart/sanitized.hpp"

#include <fmt/format.h>

#include <sys/prctl.h>
#include <sys/resource.h>
#include <unistd.h>

#include <algorithm>
#include <csignal>
#include <exception>
#include <new>

namespace evenclose {
namespace {

constexpr rlim_t kMostOpen = 16; // the three that every program has, the file, the channel, the answer, some beside

void limit(int what, rlim_t soft, rlim_t hard) {
    const rlimit both{soft, hard};
    ::setrlimit(static_cast<__rlimit_resource_t>(what), &both);
}
void limit(int what, rlim_t most) { limit(what, most, most); }

void take_limits(const ReadingLimits& limits) {
    limit(RLIMIT_CORE, 0);
    limit(RLIMIT_NOFILE, kMostOpen);
    limit(RLIMIT_FSIZE, limits.answer_bytes);
    // The soft ones, so that the program may allow more for a file beside; the filter keeps the child from doing that.
    limit(RLIMIT_CPU, limits.cpu_s, RLIM_INFINITY);
    if (!kSanitized) {
        limit(RLIMIT_DATA, limits.memory_bytes, RLIM_INFINITY);
    }
    std::signal(SIGXFSZ, SIG_IGN); // too large an answer is told
    ::prctl(PR_SET_DUMPABLE, 0, 0, 0, 0);
}

std::variant<OpenFile, std::string> ask_for(const Handle& channel, const std::string& name) {
    Message wish;
    wish.kind = Message::Kind::file_beside;
    wish.words = name;
    if (name.size() > kMostWords || !send(channel, wish)) {
        return std::string("cannot be asked for");
    }
    auto granted = receive(channel);
    if (!granted || granted->kind != Message::Kind::file_beside) {
        return std::string("is not handed over");
    }
    if (granted->handles.empty()) {
        return granted->words;
    }
    return OpenFile::handed_over(granted->handles.front().release());
}

RawResult read_within(MeshReader reader, const ReadingOrder& order, Handle file, const Handle& channel) {
    const OpenFile opened = OpenFile::handed_over(file.release());
    const FilesBeside beside = [&channel](const std::string& name) { return ask_for(channel, name); };
    try {
        return reader(opened, order.format, beside);
    } catch (const std::bad_alloc&) {
        ::_exit(kNoMemory);
    } catch (const std::exception& error) {
        return NotRead{fmt::format("cannot be read: {}", error.what())};
    }
}

} // namespace

void run_child(MeshReader reader, const ReadingOrder& order, Handle file, Handle channel, const SyscallFilter& filter) {
    // Wherever memory is missing, also where a library would not bear it.
    std::set_new_handler([] { ::_exit(kNoMemory); });
    take_limits(order.limits);
    static_cast<void>(filter.put_on()); // where it cannot be, the limits are what there is
    const RawResult result = read_within(reader, order, std::move(file), channel);
    const Handle parcel = lay_down(result);
    Message answer;
    answer.kind = Message::Kind::answer;
    if (!parcel.open() || !send(channel, answer, {parcel.number()})) {
        ::_exit(kNoAnswer);
    }
    ::_exit(0); // taking the mesh down again would only cost time
}

} // namespace evenclose
