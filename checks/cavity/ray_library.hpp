// checks/cavity/ray_library.hpp: what Embree says went wrong, as an exception. It throws nothing itself.
#pragma once

#include <embree3/rtcore.h>
#include <fmt/format.h>

#include <new>
#include <stdexcept>

namespace evenclose {

/// `made`: what a call gave; `device` null: of no device that could be made.
/// Faults: std::bad_alloc where there was no memory, else std::runtime_error in words.
inline void check_made(RTCDevice device, const void* made) {
    const RTCError error = rtcGetDeviceError(device);
    if (error == RTC_ERROR_OUT_OF_MEMORY) {
        throw std::bad_alloc();
    }
    if (made == nullptr || error != RTC_ERROR_NONE) {
        throw std::runtime_error(
            fmt::format("rays cannot be followed through this mesh (Embree: {})",
                        error == RTC_ERROR_UNSUPPORTED_CPU ? "this processor is too old for it" : "unknown error"));
    }
}

} // namespace evenclose
