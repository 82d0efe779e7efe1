// What a tag in a .tsx file becomes. The build gives it to every file.

export { h, Fragment } from "preact";
