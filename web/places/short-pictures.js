import { say } from "../words/words.js";

/**
 * Says where pictures of a document that was opened did not come along, or only small.
 *
 * @param {import("./workroom.js").Workroom} room
 * @param {import("../project/pictures-of.js").Showing} document
 */
export async function tellShort({ pictures, notices }, document) {
  const { lacking, small } = await pictures.shortOf(document).catch(() => ({ lacking: 0, small: 0 }));
  const told = [
    ...(lacking > 0 ? [notices.tell(say("keep.pictures-lacking", { count: lacking }), { stays: true })] : []),
    ...(small > 0 ? [notices.tell(say("keep.pictures-small", { count: small }), { stays: true })] : []),
  ];
  // It holds no longer once a picture comes; what is lacking then is told anew.
  pictures.addEventListener("replaced", () => told.forEach((away) => away()), { once: true });
}

/**
 * Says what of its pictures a file that was saved does not hold, or only small.
 *
 * @param {import("./workroom.js").Workroom} room
 * @param {import("../project/travel/parcel.js").Carried & {lacking: number}} carried
 */
export function tellLeft({ notices }, { small, lacking }) {
  if (lacking > 0) notices.tell(say("file.pictures-lacking", { count: lacking }), { stays: true });
  if (small.size > 0) notices.tell(say("file.pictures-small", { count: small.size }), { stays: true });
}
