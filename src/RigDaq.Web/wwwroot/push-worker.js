// Shows alarms while no page is open. It stands at the root so that it may answer for every page of this rig.
'use strict';
self.addEventListener('push', event => {
  const alarm = event.data?.json() ?? {};
  event.waitUntil(self.registration.showNotification(`${alarm.rig}: ${alarm.kind}`,
    { body: [alarm.text, alarm.remedy].filter(Boolean).join('\n'), icon: '/img/mark.svg', tag: alarm.kind, requireInteraction: true }));
});
self.addEventListener('notificationclick', event => {
  event.notification.close();
  event.waitUntil(self.clients.openWindow('/journal.html'));
});
