// Puts the post into the page.

import { createRoot } from "react-dom/client";
import { Post } from "./post.tsx";

createRoot(document.getElementById("root")!).render(<Post />);
