// Loaded before plyline.js, after the element `early`: sets a property on an element that is not
// yet defined, as a framework does.
document.getElementById("early").text = "1. c4 e5 2. g3 *";
