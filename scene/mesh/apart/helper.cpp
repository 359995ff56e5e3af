#include "scene/mesh/apart/helper.hpp"

#include "scene/mesh/apart/sanitized.hpp"

#include <fcntl.h>
#include <poll.h>
#include <sys/prctl.h>
#include <sys/signalfd.h>
#include <sys/syscall.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <chrono>
#include <csignal>
#include <cstring>
#include <map>
#include <type_traits>
#include <utility>

namespace evenclose {
namespace {

using Clock = std::chrono::steady_clock;
static_assert(std::is_trivially_copyable_v<ReadingOrder>);

/// Nothing of the program's is open here but the way to it, and nobody waits for this process to close an output.
int keep_only(Handle orders) {
    constexpr int kPlace = 3;
    if (const int null = ::open("/dev/null", O_RDWR | O_CLOEXEC); null >= 0) {
        ::dup2(null, STDIN_FILENO);
        ::dup2(null, STDOUT_FILENO); // OpenCASCADE's own words
        if (!kSanitized) {
            ::dup2(null, STDERR_FILENO);
        }
    }
    if (const int number = orders.release(); number != kPlace) {
        ::dup2(number, kPlace);
    }
    ::fcntl(kPlace, F_SETFD, FD_CLOEXEC);
    if (::syscall(SYS_close_range, kPlace + 1, ~0U, 0) != 0) {
        for (int number = kPlace + 1; number < 1024; ++number) {
            ::close(number);
        }
    }
    return kPlace;
}

class Helper {
public:
    Helper(Handle orders, MeshReader reader) : orders_(std::move(orders)), reader_(reader) {
        sigset_t ends;
        sigemptyset(&ends);
        sigaddset(&ends, SIGCHLD);
        sigprocmask(SIG_BLOCK, &ends, nullptr);
        ends_ = Handle(::signalfd(-1, &ends, SFD_CLOEXEC | SFD_NONBLOCK));
        // Ctrl-C at a terminal is for the program, which closes the channel.
        for (const int signal : {SIGINT, SIGQUIT, SIGHUP, SIGPIPE}) {
            std::signal(signal, SIG_IGN);
        }
    }

    void run() {
        while (true) {
            std::array<pollfd, 2> watched{pollfd{orders_.number(), POLLIN, 0}, pollfd{ends_.number(), POLLIN, 0}};
            if (::poll(watched.data(), watched.size(), patience_ms()) < 0 && errno != EINTR) {
                break;
            }
            if (watched[1].revents != 0) {
                signalfd_siginfo ignored{};
                while (::read(ends_.number(), &ignored, sizeof ignored) > 0) {
                }
                tell_ends();
            }
            stop_late_ones();
            if ((watched[0].revents & (POLLIN | POLLHUP | POLLERR)) != 0) {
                auto order = receive(orders_);
                if (!order) {
                    break;
                }
                begin(std::move(*order));
            }
        }
        for (const auto& [pid, child] : children_) {
            ::kill(pid, SIGKILL);
        }
    }

private:
    struct Child {
        Handle channel;
        Clock::time_point until;
        bool late = false;
    };

    [[nodiscard]] int patience_ms() const {
        using std::chrono::milliseconds;
        std::int64_t least = -1;
        for (const auto& [pid, child] : children_) {
            if (!child.late) {
                const auto left = std::chrono::ceil<milliseconds>(child.until - Clock::now()).count();
                least = least < 0 ? std::max<std::int64_t>(left, 0) : std::clamp<std::int64_t>(left, 0, least);
            }
        }
        return static_cast<int>(std::min<std::int64_t>(least, 3'600'000));
    }

    void begin(Message message) {
        if (message.kind != Message::Kind::order || message.handles.size() != 2 ||
            message.words.size() != sizeof(ReadingOrder)) {
            return;
        }
        ReadingOrder order;
        std::memcpy(&order, message.words.data(), sizeof order);
        Handle file = std::move(message.handles[0]);
        Handle channel = std::move(message.handles[1]);
        const pid_t self = ::getpid();
        const pid_t pid = ::fork();
        if (pid < 0) {
            Message why;
            why.kind = Message::Kind::cannot_begin;
            why.number = errno;
            send(channel, why);
        } else if (pid > 0) {
            children_[pid] = {std::move(channel), Clock::now() + std::chrono::seconds(order.limits.wall_s), false};
        } else {
            enter(self, order, std::move(file), std::move(channel));
        }
    }
    /// Ends with `helper`.
    [[noreturn]] void enter(pid_t helper, const ReadingOrder& order, Handle file, Handle channel) {
        ::prctl(PR_SET_PDEATHSIG, SIGKILL, 0, 0, 0);
        if (::getppid() != helper) { // which was killed in between
            ::_exit(0);
        }
        ::prctl(PR_SET_NAME, "evenclose-mesh", 0, 0, 0);
        orders_ = Handle();
        ends_ = Handle();
        children_.clear(); // the channels of others
        run_child(reader_, order, std::move(file), std::move(channel), filter_);
    }

    void tell_ends() {
        int status = 0;
        for (pid_t pid = 0; (pid = ::waitpid(-1, &status, WNOHANG)) > 0;) {
            const auto child = children_.find(pid);
            if (child != children_.end()) {
                Message ended;
                ended.kind = Message::Kind::ended;
                ended.number = status;
                ended.late = child->second.late;
                send(child->second.channel, ended);
                children_.erase(child);
            }
        }
    }

    void stop_late_ones() {
        for (auto& [pid, child] : children_) {
            if (!child.late && Clock::now() >= child.until) {
                child.late = true;
                ::kill(pid, SIGKILL);
            }
        }
    }

    Handle orders_, ends_;
    MeshReader reader_;
    SyscallFilter filter_;
    std::map<pid_t, Child> children_;
};

} // namespace

Message order_message(const ReadingOrder& order) {
    Message message;
    message.kind = Message::Kind::order;
    message.words.assign(reinterpret_cast<const char*>(&order), sizeof order);
    return message;
}

void run_helper(Handle orders, MeshReader reader) {
    ::prctl(PR_SET_NAME, "evenclose-apart", 0, 0, 0);
    Helper(Handle(keep_only(std::move(orders))), reader).run();
    ::_exit(0);
}

} // namespace evenclose
