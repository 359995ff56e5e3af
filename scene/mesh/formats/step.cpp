#include "scene/mesh/formats/step.hpp"

#include "scene/mesh/formats/welder.hpp"

#include <BRepMesh_IncrementalMesh.hxx>
#include <BRep_Tool.hxx>
#include <Message.hxx>
#include <Message_Messenger.hxx>
#include <Message_PrinterOStream.hxx>
#include <Poly_Triangulation.hxx>
#include <STEPCAFControl_Reader.hxx>
#include <Standard_Failure.hxx>
#include <Standard_OutOfMemory.hxx>
#include <TColStd_SequenceOfAsciiString.hxx>
#include <TCollection_AsciiString.hxx>
#include <TDF_ChildIterator.hxx>
#include <TDF_LabelSequence.hxx>
#include <TDataStd_Name.hxx>
#include <TDocStd_Document.hxx>
#include <TopExp_Explorer.hxx>
#include <TopLoc_Location.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Face.hxx>
#include <XCAFApp_Application.hxx>
#include <XCAFDoc_DocumentTool.hxx>
#include <XCAFDoc_ShapeTool.hxx>

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <istream>
#include <mutex>
#include <new>
#include <streambuf>
#include <string>
#include <utility>

namespace evenclose {
namespace {

constexpr std::size_t kMostTriangles = 200'000'000;
constexpr int kDeepest = 200; // of assemblies within assemblies

/// Bytes in memory as a stream.
class View : public std::streambuf {
public:
    explicit View(std::string_view text) {
        char* begin = const_cast<char*>(text.data()); // NOLINT: a get area is not written to
        setg(begin, begin, begin + text.size());
    }
};

std::string name_of(const TDF_Label& label) {
    Handle(TDataStd_Name) name;
    if (!label.FindAttribute(TDataStd_Name::GetID(), name)) {
        return {};
    }
    return TCollection_AsciiString(name->Get()).ToCString();
}

/// The file's own unit of length; the first one where a file has several, as OpenCASCADE reports it.
FileUnit unit_of(STEPCAFControl_Reader& step) {
    TColStd_SequenceOfAsciiString lengths;
    TColStd_SequenceOfAsciiString angles;
    TColStd_SequenceOfAsciiString solid_angles;
    step.ChangeReader().FileUnits(lengths, angles, solid_angles);
    std::string name = lengths.IsEmpty() ? std::string{} : lengths.First().ToCString();
    std::transform(name.begin(), name.end(), name.begin(),
                   [](unsigned char letter) { return static_cast<char>(std::tolower(letter)); });
    for (const auto& [word, unit] : {std::pair<const char*, FileUnit>{"inch", {25.4, "in"}},
                                     {"centimetre", {10, "cm"}},
                                     {"foot", {304.8, "ft"}},
                                     {"metre", {1000, "m"}}}) {
        if (name == word) {
            return unit;
        }
    }
    return {1, "mm"};
}

/// Both faces at an edge have its corners, but each brought to the world through its own place: equal to some bits less
/// than all. A grid of a millionth of a millimetre joins them and moves nothing that can be measured.
Vec3 snapped(const gp_Pnt& at) {
    const auto on_grid = [](double value) { return std::round(value * 1e6) / 1e6 + 0.0; };
    return {on_grid(at.X()), on_grid(at.Y()), on_grid(at.Z())};
}

class StepReader {
public:
    /// Solids are welded one by one: parts of an assembly that only touch stay parts.
    std::optional<NotRead> add(const TopoDS_Shape& shape) {
        const BRepMesh_IncrementalMesh mesher(shape, kStepDeflection_mm, Standard_False, kStepAngle_rad, Standard_True);
        for (TopExp_Explorer solids(shape, TopAbs_SOLID); solids.More(); solids.Next()) {
            if (auto wrong = add_faces(TopExp_Explorer(solids.Current(), TopAbs_FACE))) {
                return wrong;
            }
        }
        return add_faces(TopExp_Explorer(shape, TopAbs_FACE, TopAbs_SOLID)); // and what belongs to none
    }

    void name(const std::string& name) { names_.push_back(name.empty() ? "a part without a name" : name); }

    /// OpenCASCADE gives mm whatever the file says; what is handed on is in the file's own unit.
    RawMesh take(const FileUnit& unit) {
        raw_.corners_read = 3 * raw_.mesh.triangles.size();
        for (Vec3& vertex : raw_.mesh.vertices_mm) {
            vertex /= unit.mm;
        }
        raw_.unit = unit;
        raw_.parts = std::move(names_);
        raw_.notes.push_back(fmt::format("made into triangles that follow its faces within {} mm", kStepDeflection_mm));
        if (without_ > 0) {
            raw_.notes.push_back(fmt::format("{} faces could not be made into triangles", without_));
        }
        return std::move(raw_);
    }

private:
    std::optional<NotRead> add_faces(TopExp_Explorer faces) {
        Welder welder{1024};
        const auto first = static_cast<std::uint32_t>(raw_.mesh.vertices_mm.size());
        for (; faces.More(); faces.Next()) {
            const TopoDS_Face& face = TopoDS::Face(faces.Current());
            TopLoc_Location place;
            const Handle(Poly_Triangulation)& triangles = BRep_Tool::Triangulation(face, place);
            if (triangles.IsNull()) {
                ++without_;
                continue;
            }
            if (raw_.mesh.triangles.size() + static_cast<std::size_t>(triangles->NbTriangles()) > kMostTriangles) {
                return NotRead{fmt::format("makes more than {} triangles", kMostTriangles)};
            }
            const gp_Trsf& placement = place.Transformation();
            std::vector<std::uint32_t> numbers(static_cast<std::size_t>(triangles->NbNodes()) + 1);
            for (int i = 1; i <= triangles->NbNodes(); ++i) {
                const Vec3 at = snapped(triangles->Node(i).Transformed(placement));
                if (!std::isfinite(at.x) || !std::isfinite(at.y) || !std::isfinite(at.z)) {
                    return NotRead{"a face has a corner that is not a finite number"};
                }
                numbers[static_cast<std::size_t>(i)] = first + welder.add(at);
            }
            const bool turned = (face.Orientation() == TopAbs_REVERSED) != placement.IsNegative();
            for (int i = 1; i <= triangles->NbTriangles(); ++i) {
                std::array<int, 3> corner{};
                triangles->Triangle(i).Get(corner[0], corner[1], corner[2]);
                const TriangleCorners triangle{numbers[static_cast<std::size_t>(corner[0])],
                                               numbers[static_cast<std::size_t>(corner[turned ? 2 : 1])],
                                               numbers[static_cast<std::size_t>(corner[turned ? 1 : 2])]};
                // What the grid made a line of has no area to lose.
                if (triangle[0] != triangle[1] && triangle[1] != triangle[2] && triangle[2] != triangle[0]) {
                    raw_.mesh.triangles.push_back(triangle);
                }
            }
        }
        const std::vector<Vec3> vertices = welder.take();
        raw_.mesh.vertices_mm.insert(raw_.mesh.vertices_mm.end(), vertices.begin(), vertices.end());
        return {};
    }

    RawMesh raw_;
    std::vector<std::string> names_;
    std::size_t without_ = 0;
};

/// Names of the parts at the ends of an assembly's branches, once a place.
void name_parts(const TDF_Label& label, StepReader& reader, const std::string& called, int depth) {
    TDF_Label referred = label;
    if (XCAFDoc_ShapeTool::IsReference(label)) {
        XCAFDoc_ShapeTool::GetReferredShape(label, referred);
    }
    const std::string own = name_of(referred);
    TDF_LabelSequence parts;
    if (depth < kDeepest && XCAFDoc_ShapeTool::GetComponents(referred, parts)) {
        for (const TDF_Label& part : parts) {
            name_parts(part, reader, name_of(part), depth + 1);
        }
        return;
    }
    reader.name(own.empty() ? called : own);
}

} // namespace

RawResult read_step(const OpenFile& file) {
    static std::mutex one_at_a_time;
    const std::lock_guard lock(one_at_a_time);
    const auto text = whole(file);
    if (!text) {
        return NotRead{kChangedWhileRead};
    }
    // Its own words go to standard output, where the findings belong.
    Message::DefaultMessenger()->RemovePrinters(STANDARD_TYPE(Message_PrinterOStream));
    Handle(TDocStd_Document) document;
    const Handle(XCAFApp_Application) application = XCAFApp_Application::GetApplication();
    try {
        application->NewDocument("BinXCAF", document);
        STEPCAFControl_Reader step;
        step.SetNameMode(Standard_True);
        View bytes(text->view());
        std::istream stream(&bytes);
        if (step.ChangeReader().ReadStream("file", stream) != IFSelect_RetDone) {
            application->Close(document);
            return NotRead{"is no STEP file that can be read, or is cut short"};
        }
        if (!step.Transfer(document)) {
            application->Close(document);
            return NotRead{"holds no shape that can be read"};
        }
        const Handle(XCAFDoc_ShapeTool) shapes = XCAFDoc_DocumentTool::ShapeTool(document->Main());
        TDF_LabelSequence roots;
        shapes->GetFreeShapes(roots);
        StepReader reader;
        for (const TDF_Label& root : roots) {
            if (auto wrong = reader.add(XCAFDoc_ShapeTool::GetShape(root))) {
                application->Close(document);
                return *wrong;
            }
            name_parts(root, reader, {}, 0);
        }
        RawMesh raw = reader.take(unit_of(step));
        application->Close(document);
        return raw;
    } catch (const Standard_OutOfMemory&) {
        throw std::bad_alloc();
    } catch (const Standard_Failure& failure) {
        if (!document.IsNull()) {
            application->Close(document);
        }
        const char* why = failure.GetMessageString();
        return NotRead{
            fmt::format("cannot be read as STEP: {}", why != nullptr && *why != '\0' ? why : "it is broken")};
    }
}

} // namespace evenclose
