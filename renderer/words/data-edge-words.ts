/** Along the line at which a map's elevation model ends. */
export const DATA_EDGE_WORDS = "No heights beyond this line";
