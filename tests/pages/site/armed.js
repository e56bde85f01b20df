// Loaded between trap.js and plyline.js: the first lesson that is drawn traps.
trap.armed = true;
