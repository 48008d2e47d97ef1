// Ties VTK's FreeType font module to this program. A file of its own, and no other VTK header here:
// where CMake's vtk_module_autoinit is used as well, both in one file would define the same names.
#include <vtkAutoInit.h>

VTK_MODULE_INIT(vtkRenderingFreeType)

namespace boxroom {

void use_font_module() {}

}  // namespace boxroom
