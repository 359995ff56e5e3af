#include "scene/mesh/apart/limits.hpp"

namespace evenclose {
namespace {

constexpr std::uint64_t kMiB = 1ULL << 20U;

/// Once, and for each byte of the file.
struct Allowance {
    std::uint64_t memory, memory_a_byte;
    std::uint64_t answer, answer_a_byte;
    std::uint64_t cpu_s, bytes_a_cpu_s;
};

Allowance allowance(MeshFormat format) {
    switch (format) {
    // Own readers: at most 20 bytes of memory a byte of the file (a PLY of one-digit numbers), more than 50 MB/s. An answer
    // is 24 bytes a corner and 12 a triangle; "f 1 1 1 1 1 ..." makes a triangle of two bytes.
    case MeshFormat::stl_binary:
    case MeshFormat::stl_text:
    case MeshFormat::obj:
    case MeshFormat::ply:
    case MeshFormat::off:
    case MeshFormat::unknown:
        return {128 * kMiB, 32, kMiB, 16, 8, 4 * kMiB};
    // Assimp: the text is packed to a tenth or less, takes a tree in memory, and parts may be placed many times.
    case MeshFormat::three_mf:
        return {512 * kMiB, 200, 512 * kMiB, 100, 8, kMiB / 4};
    case MeshFormat::gltf:
    case MeshFormat::glb:
        return {512 * kMiB, 40, 512 * kMiB, 20, 8, kMiB};
    // OpenCASCADE: 200 kB of our CAD's parts take 20 MB and a second; a small file of free-form faces may take long.
    case MeshFormat::step:
        return {768 * kMiB, 400, 512 * kMiB, 100, 9, kMiB / 32};
    }
    return {};
}

} // namespace

ReadingLimits reading_limits(MeshFormat format, std::uint64_t bytes) {
    const Allowance a = allowance(format);
    ReadingLimits limits;
    limits.memory_bytes = a.memory + a.memory_a_byte * bytes;
    limits.answer_bytes = a.answer + a.answer_a_byte * bytes;
    limits.cpu_s = a.cpu_s + bytes / a.bytes_a_cpu_s;
    // A busy machine or a slow network disk takes longer than the reader does.
    limits.wall_s = 30 + 4 * limits.cpu_s;
    return limits;
}

} // namespace evenclose
