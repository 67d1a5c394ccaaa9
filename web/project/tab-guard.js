/**
 * Lets one tab at a time edit a project, through the browser's locks: the tab that opens it last takes it over,
 * and the earlier one is told.
 *
 * Events: "lost" (another tab took the project over).
 */
export class TabGuard extends EventTarget {
  constructor() {
    super();
    this.project = "";
    this.release = () => {};
  }

  /** Tells another tab that has a project open that it is gone from here. @param {string} project  its id */
  async evict(project) {
    if ("locks" in navigator) await navigator.locks.request(`peekpaper ${project}`, { steal: true }, () => {});
  }

  /** @param {string} project  its id */
  take(project) {
    if (!("locks" in navigator) || project === this.project) return;
    this.release();
    this.project = project;
    /** @type {Promise<void>} */
    const held = new Promise((resolve) => {
      this.release = resolve;
    });
    navigator.locks.request(`peekpaper ${project}`, { steal: true }, () => held).catch(() => {
      if (this.project !== project) return;
      this.project = "";
      this.dispatchEvent(new Event("lost"));
    });
  }
}
