// Nothing in it is for plyline: the page is in a folder of its own.
export default { root: "site" };
