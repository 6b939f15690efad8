import { StandIn } from '../src/bridge/mock/stand-in';

declare global {
  interface Window {
    core: StandIn;
    /** Settings that a test wants from the first moment on. */
    settingsFirst?: Partial<StandIn['settings']>;
  }
}

/** What a test's page runs before the app: the stand-in for the core, within the test's reach. */
window.core = new StandIn();
Object.assign(window.core.settings, window.settingsFirst ?? {});
window.core.start();
