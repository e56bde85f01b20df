// Everything that the page needs, bundled. The words of a language come before the script.

import "plyline/words/fr.js";
import "plyline";
