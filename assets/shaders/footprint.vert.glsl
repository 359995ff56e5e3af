// Bodies seen from straight above, for the shade they leave on the floor. `model_to_floor` gives x and y as -1 to 1
// over the floor's square and z in mm above it.
layout(location = 0) in vec3 position;
uniform mat4 model_to_floor;
uniform vec4 kept; // section plane in that frame; used only while GL_CLIP_DISTANCE0 is on
out float above_mm;
void main() {
    vec4 here = model_to_floor * vec4(position, 1.0);
    above_mm = here.z;
    gl_ClipDistance[0] = dot(kept, here);
    gl_Position = vec4(here.xy, 0.0, 1.0);
}
