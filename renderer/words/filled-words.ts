/** Around ground whose heights were missing in the elevation model and were made up from those around. */
export const FILLED_WORDS = "Heights here were filled in";
