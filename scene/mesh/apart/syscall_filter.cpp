#include "scene/mesh/apart/syscall_filter.hpp"

#include "scene/mesh/apart/sanitized.hpp"

#ifdef EVENCLOSE_SECCOMP
#include <linux/filter.h>
#include <sched.h>
#include <seccomp.h>
#include <sys/mman.h>
#include <sys/prctl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <initializer_list>
#include <memory>
#endif

namespace evenclose {

#ifdef EVENCLOSE_SECCOMP

SyscallFilter::SyscallFilter() {
    if (kSanitized) {
        return;
    }
    // What is not allowed fails as if this user had no right to it, so that a library may go on without.
    const std::unique_ptr<void, void (*)(void*)> filter(seccomp_init(SCMP_ACT_ERRNO(EACCES)),
                                                        [](void* it) { seccomp_release(it); });
    if (filter == nullptr) {
        return;
    }
    bool right = true;
    const auto allow = [&](int call) { right = right && seccomp_rule_add(filter.get(), SCMP_ACT_ALLOW, call, 0) == 0; };
    for (const int call : {SCMP_SYS(read),
                           SCMP_SYS(pread64),
                           SCMP_SYS(readv),
                           SCMP_SYS(write),
                           SCMP_SYS(writev),
                           SCMP_SYS(lseek),
                           SCMP_SYS(close),
                           SCMP_SYS(fstat),
                           SCMP_SYS(ftruncate),
                           SCMP_SYS(fcntl),
                           SCMP_SYS(memfd_create),
                           SCMP_SYS(sendmsg),
                           SCMP_SYS(recvmsg),
                           SCMP_SYS(poll),
                           SCMP_SYS(brk),
                           SCMP_SYS(munmap),
                           SCMP_SYS(mremap),
                           SCMP_SYS(madvise),
                           SCMP_SYS(futex),
                           SCMP_SYS(exit),
                           SCMP_SYS(exit_group),
                           SCMP_SYS(rt_sigreturn),
                           SCMP_SYS(rt_sigprocmask),
                           SCMP_SYS(rt_sigaction),
                           SCMP_SYS(sigaltstack),
                           SCMP_SYS(getpid),
                           SCMP_SYS(gettid),
                           SCMP_SYS(sched_yield),
                           SCMP_SYS(sched_getaffinity),
                           SCMP_SYS(nanosleep),
                           SCMP_SYS(clock_nanosleep),
                           SCMP_SYS(clock_gettime),
                           SCMP_SYS(gettimeofday),
                           SCMP_SYS(getrandom),
                           SCMP_SYS(getrusage),
                           SCMP_SYS(set_robust_list),
                           SCMP_SYS(rseq),
                           SCMP_SYS(restart_syscall)}) {
        allow(call);
    }
    // Memory that is written is never run.
    for (const int call : {SCMP_SYS(mmap), SCMP_SYS(mprotect)}) {
        right = right &&
                seccomp_rule_add(filter.get(), SCMP_ACT_ALLOW, call, 1, SCMP_A2(SCMP_CMP_MASKED_EQ, PROT_EXEC, 0)) == 0;
    }
    // Threads of its own, no process. clone3's flags are behind a pointer that a filter cannot follow: told to be unknown,
    // the C library takes clone.
    right = right && seccomp_rule_add(filter.get(), SCMP_ACT_ALLOW, SCMP_SYS(clone), 1,
                                      SCMP_A0(SCMP_CMP_MASKED_EQ, CLONE_THREAD, CLONE_THREAD)) == 0;
    right = right && seccomp_rule_add(filter.get(), SCMP_ACT_ERRNO(ENOSYS), SCMP_SYS(clone3), 0) == 0;
    if (!right) {
        return;
    }
    const int memory = ::memfd_create("filter", MFD_CLOEXEC);
    struct stat about {};
    if (memory >= 0 && seccomp_export_bpf(filter.get(), memory) == 0 && ::fstat(memory, &about) == 0) {
        static_assert(sizeof(Instruction) == sizeof(sock_filter));
        std::vector<Instruction> program(static_cast<std::size_t>(about.st_size) / sizeof(Instruction));
        const auto bytes = static_cast<ssize_t>(program.size() * sizeof(Instruction));
        if (::pread(memory, program.data(), static_cast<std::size_t>(bytes), 0) == bytes) {
            program_ = std::move(program);
        }
    }
    ::close(memory);
}

bool SyscallFilter::put_on() const {
    if (program_.empty()) {
        return false;
    }
    const sock_fprog program{static_cast<unsigned short>(program_.size()),
                             reinterpret_cast<sock_filter*>(const_cast<Instruction*>(program_.data()))}; // NOLINT
    return ::prctl(PR_SET_NO_NEW_PRIVS, 1, 0, 0, 0) == 0 &&
           ::prctl(PR_SET_SECCOMP, SECCOMP_MODE_FILTER, &program, 0, 0) == 0;
}

#else

SyscallFilter::SyscallFilter() = default;
bool SyscallFilter::put_on() const { return false; }

#endif

} // namespace evenclose
