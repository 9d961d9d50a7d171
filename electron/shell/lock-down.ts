import { app, session as sessions, type Session } from "electron";
import { APP_ORIGIN } from "./app-protocol.ts";

/** Nothing leaves this computer: requests to anything but our own pages, and data they made themselves, are cancelled. */
export function denyNetwork(session: Session = sessions.defaultSession): void {
  session.webRequest.onBeforeRequest((details, callback) => callback({ cancel: !isOwn(details.url) }));
}

function isOwn(url: string): boolean {
  return (
    url.startsWith(`${APP_ORIGIN}/`) ||
    url.startsWith(`blob:${APP_ORIGIN}/`) ||
    url.startsWith("data:") ||
    url.startsWith("devtools:")
  );
}

/** The window needs no camera, place, notifications or devices, and downloads go through its own dialogs. */
export function denyPermissions(session: Session = sessions.defaultSession): void {
  session.setPermissionRequestHandler((_contents, _permission, callback) => callback(false));
  session.setPermissionCheckHandler(() => false);
  session.setDevicePermissionHandler(() => false);
  session.on("will-download", (event) => event.preventDefault());
}

/** For every page there will ever be: it stays where it is, opens nothing, embeds nothing. */
export function denyNavigation(): void {
  app.on("web-contents-created", (_event, contents) => {
    contents.setWindowOpenHandler(() => ({ action: "deny" }));
    const stay = (event: { preventDefault(): void }, url: string): void => {
      if (!url.startsWith(`${APP_ORIGIN}/`)) event.preventDefault();
    };
    contents.on("will-navigate", (event) => stay(event, event.url));
    contents.on("will-redirect", (event) => stay(event, event.url));
    contents.on("will-frame-navigate", (event) => stay(event, event.url));
    contents.on("will-attach-webview", (event) => event.preventDefault());
  });
}
