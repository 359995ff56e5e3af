// scene/mesh/apart/syscall_filter.hpp: which system calls a process that reads a mesh may make: memory, threads of its own,
// reading and writing what is open already, the channel to the program. No file by a name, no network, no other process,
// no new program. Source: seccomp(2), seccomp_rule_add(3).
#pragma once

#include <cstdint>
#include <vector>

namespace evenclose {

/// Made once and put on by each child.
class SyscallFilter {
public:
    /// Nothing is filtered if this was built without libseccomp, or with a sanitizer, which needs more of the system.
    SyscallFilter();
    /// Puts it on the calling process, for good. False if the system does not let it: then nothing is filtered.
    [[nodiscard]] bool put_on() const;

private:
    struct Instruction { // as the kernel reads it (struct sock_filter)
        std::uint16_t code;
        std::uint8_t if_true, if_false;
        std::uint32_t value;
    };
    std::vector<Instruction> program_;
};

} // namespace evenclose
