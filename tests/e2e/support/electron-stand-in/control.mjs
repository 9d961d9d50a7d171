/** How a test reaches into the process of the stand-in: named questions over the child's message channel. */
export function listen({ app, session, ipcMain, noted }) {
  const window = () => noted.windows[0];
  const items = (menu) => (menu ?? []).flatMap((item) => [item, ...items(item.submenu)]);

  /** Raises an event that asks for leave, and says whether it was given. */
  const allowed = (emitter, name, fields = {}) => {
    let prevented = false;
    const event = { ...fields, preventDefault: () => (prevented = true) };
    if (emitter.listenerCount(name) === 0) return true;
    emitter.emit(name, event, fields.url);
    return !prevented;
  };

  const questions = {
    evaluate: ({ code }) => window().webContents.page.evaluate(code),
    screenshot: ({ path }) => window().webContents.page.screenshot({ path }),
    preferences: () => window().options.webPreferences,
    shown: () => window().shown === true,
    privileged: () => noted.privileged,
    sandboxed: () => noted.sandboxed === true,
    problems: () => noted.problems,
    answer: ({ answer }) => void noted.answers.push(answer),
    asked: () => JSON.parse(JSON.stringify(noted.asked)),
    printed: () => noted.printed.splice(0),
    menu: ({ label }) => {
      const item = items(noted.menu).find((candidate) => candidate.label === label);
      if (!item) throw new Error(`no menu item ${label}`);
      item.click();
    },
    menuItem: ({ label }) => {
      const {
        click: _click,
        submenu: _submenu,
        ...rest
      } = items(noted.menu).find((candidate) => candidate.label === label) ?? {};
      return rest;
    },
    menuTitles: () => (noted.menu ?? []).map(({ label }) => label),
    menuLabels: () => items(noted.menu).map(({ label, role, type }) => label ?? role ?? type),
    navigation: ({ name, url }) => allowed(window().webContents, name, { url }),
    newWindow: ({ url }) => window().webContents.windowOpen({ url }),
    download: () => allowed(session.defaultSession, "will-download"),
    permission: async ({ permission }) => {
      const { permissionRequest, permissionCheck, devicePermission } = session.defaultSession;
      const requested = await new Promise((resolve) => permissionRequest(null, permission, resolve, {}));
      return requested || permissionCheck(null, permission, "") || devicePermission({});
    },
    network: ({ url }) =>
      new Promise((resolve) =>
        session.defaultSession.beforeRequest({ url }, ({ cancel }) => resolve(cancel !== true)),
      ),
    stranger: ({ url, method }) =>
      ipcMain.handlers.get("legwright:call")({ senderFrame: url === null ? null : { url } }, method, []),
    secondInstance: ({ files }) => {
      app.emit("second-instance", {}, [], "/", { files });
      return window().focused === true;
    },
    openFile: ({ path }) => allowed(app, "open-file", { url: path }),
    lockData: () => noted.lockData,
    recent: () => noted.recent,
    options: () => JSON.parse(JSON.stringify({ ...window().options, webPreferences: undefined })),
    fullScreen: () => window().isFullScreen(),
    close: () => void window().close(),
    quit: () => void app.quit(),
    windowCount: () => noted.windows.length,
  };

  const answer = async ({ id, question, args }) => {
    try {
      process.send({ id, value: await questions[question](args ?? {}) });
    } catch (error) {
      process.send({ id, error: error instanceof Error ? error.message : String(error) });
    }
  };
  process.on("message", (message) => void answer(message));
  // The test is gone: so is the reason to run.
  process.on("disconnect", () => app.end());
}
