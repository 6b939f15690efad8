import type { Screen } from '$/bridge/types';

/** Where the user is. Kept in the address, so that the phone's back gesture works and a reload
 * comes back to the same place. */
export type Route =
  | { at: 'jobs' }
  | { at: 'settings' }
  | { at: 'new' }
  | { at: 'job'; id: string; screen: Screen };

export const SCREENS: readonly Screen[] = [
  'intake',
  'plugs',
  'cranking',
  'leak-down',
  'findings',
  'handover',
];

/** The screens on which readings are taken. */
export const WORKING: readonly Screen[] = ['plugs', 'cranking', 'leak-down'];

export function routeOf(hash: string): Route {
  const [place, id, screen] = hash.replace(/^#\/?/, '').split('/').map(decodeURIComponent);
  if (place === 'settings') return { at: 'settings' };
  if (place === 'new') return { at: 'new' };
  if (place === 'job' && id) {
    const known = SCREENS.find((one) => one === screen);
    return { at: 'job', id, screen: known ?? 'intake' };
  }
  return { at: 'jobs' };
}

export function hashOf(route: Route): string {
  if (route.at !== 'job') return `#/${route.at}`;
  return `#/job/${encodeURIComponent(route.id)}/${route.screen}`;
}

class Router {
  route = $state<Route>({ at: 'jobs' });

  start(): void {
    this.route = routeOf(location.hash);
    addEventListener('hashchange', () => {
      this.route = routeOf(location.hash);
    });
  }

  go(route: Route): void {
    location.hash = hashOf(route);
    this.route = route;
  }

  /** Back where the user came from, or to the jobs when there is nothing behind. */
  back(): void {
    if (history.length > 1) history.back();
    else this.go({ at: 'jobs' });
  }
}

export const router = new Router();
