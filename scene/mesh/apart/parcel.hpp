// scene/mesh/apart/parcel.hpp: what a reader gives, laid down in sealed memory for another process, and taken up from there
// with every number looked at: whoever laid it down may have been taken over by the file that it read.
//
// A head with the counts, the corners, the triangles, the words; nothing before, between or behind. The memory is sealed:
// it cannot become larger, smaller or other once it was handed over (fcntl F_ADD_SEALS, Linux 3.17).
#pragma once

#include "scene/mesh/apart/channel.hpp"
#include "scene/mesh/formats/raw_mesh.hpp"

#include <cstdint>
#include <string>
#include <variant>

namespace evenclose {

/// No open handle if the system gives no more memory, or not so much.
[[nodiscard]] Handle lay_down(const RawResult& result);

/// Gives: the result: finite corners, triangles of corners that are there, words of one line each; or why it is none.
/// Needs: nothing of `parcel`: it may be any file. More than `most_bytes` are refused.
[[nodiscard]] std::variant<RawResult, std::string> take_up(const Handle& parcel, std::uint64_t most_bytes);

} // namespace evenclose
