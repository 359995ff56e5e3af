#include "scene/mesh/apart/channel.hpp"

#include <poll.h>
#include <sys/socket.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstring>

namespace evenclose {
namespace {

constexpr std::size_t kMostHandles = 2;

struct Head {
    std::uint32_t kind;
    std::uint32_t late;
    std::int64_t number;
};

} // namespace

Handle::~Handle() {
    if (number_ >= 0) {
        ::close(number_);
    }
}

std::optional<std::pair<Handle, Handle>> channel() {
    std::array<int, 2> ends{};
    if (::socketpair(AF_UNIX, SOCK_SEQPACKET | SOCK_CLOEXEC, 0, ends.data()) != 0) {
        return {};
    }
    return std::pair(Handle(ends[0]), Handle(ends[1]));
}

void tell_senders(const Handle& end) {
    const int on = 1;
    ::setsockopt(end.number(), SOL_SOCKET, SO_PASSCRED, &on, sizeof on);
}

bool send(const Handle& end, const Message& message, const std::vector<int>& handles) {
    Head head{static_cast<std::uint32_t>(message.kind), message.late ? 1U : 0U, message.number};
    std::array<iovec, 2> pieces{iovec{&head, sizeof head},
                                iovec{const_cast<char*>(message.words.data()), // NOLINT: is not written to
                                      std::min(message.words.size(), kMostWords)}};
    msghdr it{};
    it.msg_iov = pieces.data();
    it.msg_iovlen = pieces.size();
    alignas(cmsghdr) std::array<char, CMSG_SPACE(kMostHandles * sizeof(int))> room{};
    if (!handles.empty()) {
        const std::size_t size = std::min(handles.size(), kMostHandles) * sizeof(int);
        it.msg_control = room.data();
        it.msg_controllen = CMSG_SPACE(size);
        cmsghdr* beside = CMSG_FIRSTHDR(&it);
        beside->cmsg_level = SOL_SOCKET;
        beside->cmsg_type = SCM_RIGHTS;
        beside->cmsg_len = CMSG_LEN(size);
        std::memcpy(CMSG_DATA(beside), handles.data(), size);
    }
    ssize_t sent = 0;
    do {
        sent = ::sendmsg(end.number(), &it, MSG_NOSIGNAL);
    } while (sent < 0 && errno == EINTR);
    return sent >= 0;
}

std::optional<Message> receive(const Handle& end, std::optional<std::chrono::steady_clock::time_point> until) {
    using std::chrono::milliseconds;
    while (until) {
        const auto left = std::chrono::ceil<milliseconds>(*until - std::chrono::steady_clock::now());
        pollfd watched{end.number(), POLLIN, 0};
        const int ready = ::poll(&watched, 1, static_cast<int>(std::clamp<std::int64_t>(left.count(), 0, 3'600'000)));
        if (ready > 0) {
            break;
        }
        if (ready == 0 && std::chrono::steady_clock::now() >= *until) {
            return {};
        }
        if (ready < 0 && errno != EINTR) {
            return {};
        }
    }
    Head head{};
    std::array<char, kMostWords> words{};
    std::array<iovec, 2> pieces{iovec{&head, sizeof head}, iovec{words.data(), words.size()}};
    alignas(cmsghdr) std::array<char, CMSG_SPACE(kMostHandles * sizeof(int)) + CMSG_SPACE(sizeof(ucred))> room{};
    msghdr it{};
    it.msg_iov = pieces.data();
    it.msg_iovlen = pieces.size();
    it.msg_control = room.data();
    it.msg_controllen = room.size();
    ssize_t got = 0;
    do {
        got = ::recvmsg(end.number(), &it, MSG_CMSG_CLOEXEC);
    } while (got < 0 && errno == EINTR);
    if (got <= 0) {
        return {};
    }
    Message message;
    for (cmsghdr* beside = CMSG_FIRSTHDR(&it); beside != nullptr; beside = CMSG_NXTHDR(&it, beside)) {
        if (beside->cmsg_level != SOL_SOCKET) {
            continue;
        }
        if (beside->cmsg_type == SCM_RIGHTS) {
            const std::size_t count = (beside->cmsg_len - CMSG_LEN(0)) / sizeof(int);
            for (std::size_t i = 0; i < count; ++i) {
                int number = -1;
                std::memcpy(&number, CMSG_DATA(beside) + i * sizeof number, sizeof number);
                message.handles.emplace_back(number);
            }
        } else if (beside->cmsg_type == SCM_CREDENTIALS) {
            ucred who{};
            std::memcpy(&who, CMSG_DATA(beside), sizeof who);
            message.sender = who.pid;
        }
    }
    const auto size = static_cast<std::size_t>(got);
    if (size < sizeof head || (it.msg_flags & (MSG_TRUNC | MSG_CTRUNC)) != 0 ||
        head.kind > static_cast<std::uint32_t>(Message::Kind::cannot_begin)) {
        return {};
    }
    message.kind = static_cast<Message::Kind>(head.kind);
    message.late = head.late != 0;
    message.number = head.number;
    message.words.assign(words.data(), size - sizeof head);
    return message;
}

} // namespace evenclose
