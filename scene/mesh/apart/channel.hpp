// scene/mesh/apart/channel.hpp: messages between the program, its helper and a helper's child: a kind, a number, a few words,
// descriptors. Over a UNIX socket that keeps messages whole (SOCK_SEQPACKET); the system itself says who sent one.
#pragma once

#include <sys/types.h>

#include <chrono>
#include <cstdint>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace evenclose {

/// A descriptor that is closed in the end.
class Handle {
public:
    Handle() = default;
    explicit Handle(int number) : number_(number) {}
    Handle(Handle&& other) noexcept : number_(std::exchange(other.number_, -1)) {}
    Handle& operator=(Handle&& other) noexcept {
        std::swap(number_, other.number_);
        return *this;
    }
    Handle(const Handle&) = delete;
    Handle& operator=(const Handle&) = delete;
    ~Handle();

    [[nodiscard]] int number() const { return number_; }
    [[nodiscard]] bool open() const { return number_ >= 0; }
    [[nodiscard]] int release() { return std::exchange(number_, -1); }

private:
    int number_ = -1;
};

struct Message {
    enum class Kind : std::uint32_t {
        order,        // program to helper: file, channel; words: limits and format
        file_beside,  // child to program: a name; program to child: the file, or words why not
        answer,       // child to program: sealed memory
        ended,        // helper to program: number is the child's status, `late` that it was stopped for its time
        cannot_begin, // helper to program: number is the system's error
    };
    Kind kind = Kind::order;
    std::int64_t number = 0;
    bool late = false;
    std::string words;
    std::vector<Handle> handles; // as received
    pid_t sender = 0;            // as received, where asked for by tell_senders()
};

inline constexpr std::size_t kMostWords = 4096;

/// Two ends, closed on exec; none if the system has no more.
[[nodiscard]] std::optional<std::pair<Handle, Handle>> channel();
/// What is received at this end tells who sent it.
void tell_senders(const Handle& end);

/// False if nobody is at the other end. `handles` stay open here.
bool send(const Handle& end, const Message& message, const std::vector<int>& handles = {});
/// Waits for a message; nothing if the other end is closed, if it is no message of ours, or at the time given.
[[nodiscard]] std::optional<Message> receive(const Handle& end,
                                             std::optional<std::chrono::steady_clock::time_point> until = {});

} // namespace evenclose
