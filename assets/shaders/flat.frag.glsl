// One value for every pixel that a body covers.
uniform vec4 flat_value;
out vec4 shown;
void main() { shown = flat_value; }
