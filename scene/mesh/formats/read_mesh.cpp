#include "scene/mesh/formats/read_mesh.hpp"

#include "scene/mesh/formats/obj.hpp"
#include "scene/mesh/formats/off.hpp"
#include "scene/mesh/formats/ply.hpp"
#include "scene/mesh/formats/scene_formats.hpp"
#include "scene/mesh/formats/step.hpp"
#include "scene/mesh/formats/stl.hpp"

namespace evenclose {
namespace {

RawResult read_text(const OpenFile& file, RawResult (*reader)(std::string_view)) {
    const auto text = whole(file);
    return text ? reader(text->view()) : RawResult(NotRead{kChangedWhileRead});
}

} // namespace

RawResult read_mesh(const OpenFile& file, MeshFormat format, const FilesBeside& beside) {
    switch (format) {
    case MeshFormat::stl_binary:
        return read_binary_stl(file);
    case MeshFormat::stl_text:
        return read_text(file, read_text_stl);
    case MeshFormat::obj:
        return read_obj(file);
    case MeshFormat::ply:
        return read_text(file, read_ply);
    case MeshFormat::off:
        return read_text(file, read_off);
    case MeshFormat::three_mf:
    case MeshFormat::gltf:
    case MeshFormat::glb:
        return read_scene(file, format, beside);
    case MeshFormat::step:
#ifdef EVENCLOSE_STEP
        return read_step(file);
#else
        return NotRead{"is a STEP file, and this evenclose was built without a reader for it; export it as STL or 3MF"};
#endif
    case MeshFormat::unknown:
        break;
    }
    return NotRead{"is in no format that is read here"};
}

} // namespace evenclose
