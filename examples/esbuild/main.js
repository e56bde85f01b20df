// Everything that the page needs, bundled.

import "plyline";
