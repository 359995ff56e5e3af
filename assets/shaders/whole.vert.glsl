// One triangle over the whole area; `unit` is 0 to 1 from the lower left.
out vec2 unit;
void main() {
    unit = vec2(gl_VertexID == 1 ? 2.0 : 0.0, gl_VertexID == 2 ? 2.0 : 0.0);
    gl_Position = vec4(unit * 2.0 - 1.0, 0.0, 1.0);
}
