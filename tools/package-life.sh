#!/usr/bin/env bash
# The life of the Debian package on a Debian that has booted its own systemd: installed, configured, started, hung, killed, upgraded,
# removed, purged. Writes a log; ends with how many steps went as they should, and with 1 where one did not.
#
#   tools/package-life.sh OLD.deb NEW.deb [LOG]
#
# Needs root, mmdebstrap and systemd-nspawn (Debian: mmdebstrap, systemd-container; RIGDAQ_NSPAWN names another one) and the archive of
# Debian once; the bare system is kept in ~/.cache/rigdaq-tests. Nothing of this machine's own systemd is touched.
set -euo pipefail
old=$(readlink -f "$1") new=$(readlink -f "$2") log=${3:-/dev/stdout}
nspawn=${RIGDAQ_NSPAWN:-systemd-nspawn}
base=${XDG_CACHE_HOME:-$HOME/.cache}/rigdaq-tests/bookworm.tar
if [ ! -e "$base" ]; then
  mkdir -p "${base%/*}"
  mmdebstrap --quiet --variant=minbase --include=systemd,systemd-sysv,adduser,curl,procps bookworm "${base%.tar}.new.tar"
  mv "${base%.tar}.new.tar" "$base"
fi
exec 3>>"$log"
root=$(mktemp -d)
ended() { [ -z "${machine:-}" ] || { kill "$machine" 2>/dev/null || true; wait "$machine" 2>/dev/null || true; }; rm -rf "$root"; }
trap ended EXIT
tar -xf "$base" -C "$root"
cp "$old" "$root/old.deb"; cp "$new" "$root/new.deb"
"$nspawn" --quiet -D "$root" --register=no --keep-unit --private-network --console=pipe -b </dev/null >"$root/console" 2>&1 &
machine=$!

good=0 bad=0
inside() { nsenter -t "$leader" -m -u -i -n -p -- /usr/bin/env PATH=/usr/sbin:/usr/bin:/sbin:/bin DEBIAN_FRONTEND=noninteractive "$@"; }
step() { # WORDS SCRIPT: the script must end with 0, inside; what it says goes into the log.
  local words=$1 said status=0 began=$EPOCHREALTIME
  said=$(inside sh -ec "$until_ $2" 2>&1 </dev/null) || status=$?
  printf '%s  %-4s %5.1f s  %s\n' "$(date -u +%T)" "$([ $status = 0 ] && echo good || echo BAD)" \
    "$(awk "BEGIN { print $EPOCHREALTIME - $began }")" "$words" >&3
  [ -z "$said" ] || sed 's/^/               | /' <<<"$said" >&3
  if [ $status = 0 ]; then good=$((good + 1)); else bad=$((bad + 1)); fi
}
# Waits, a minute at most, until something holds: another system works in wall time.
until_='until_() { i=0; until eval "$1" >/dev/null 2>&1; do i=$((i + 1)); [ $i -lt 300 ] || { echo "in vain: $1"; return 1; }; sleep 0.2; done; }
as_() { runuser -u rigdaq -- rigdaq "$@" --data /var/lib/rigdaq; }
not() { if "$@"; then return 1; fi; }
'

for _ in $(seq 300); do leader=$(pgrep -P "$machine" | head -1) && [ -n "$leader" ] && inside systemctl is-system-running 2>/dev/null \
  | grep -qE 'running|degraded' && break; sleep 0.2; done
printf 'From %s\nto   %s, on %s\n' "${old##*/}" "${new##*/}" "$(inside sh -c '. /etc/os-release; echo $PRETTY_NAME, $(systemctl --version | head -1)')" >&3

step "install" "dpkg -i /old.deb"
step "the user is there, in the group of serial ports; its data folder is its own" \
  "id rigdaq | grep -q dialout; stat -c '%U %G %a %n' /var/lib/rigdaq | tee /dev/stderr | grep -q '^rigdaq rigdaq 700'"
step "it waits for a port to be named: enabled, not started" \
  "systemctl is-enabled rigdaq; not systemctl is-active rigdaq"
step "started all the same it ends with words, and is not started again" \
  "not systemctl start rigdaq; systemctl show -p NRestarts -p ExecMainStatus rigdaq | tee /dev/stderr | grep -q ExecMainStatus=2; journalctl -u rigdaq -o cat | grep serial.path; systemctl reset-failed rigdaq"
step "a port is named: it starts, and is ready" \
  "sed -i 's@// \"path\".*@\"path\": \"/dev/ttyACM0\"@' /etc/rigdaq/rigdaq.json; systemctl start rigdaq; systemctl show -p ActiveState -p SubState -p Type rigdaq"
step "its pages answer" "until_ 'curl -fs http://127.0.0.1:8377/ -o /dev/null'; curl -fs http://127.0.0.1:8377/index.html | grep -o '<title>.*</title>'"
step "it runs as its user, raised above others, and fenced in" \
  "p=\$(systemctl show -p MainPID --value rigdaq); ps -o user=,ni=,args= -p \$p; ps -o user= -p \$p | grep -q rigdaq; ps -o ni= -p \$p | grep -q -- -10; not nsenter -t \$p -m -S \$(id -u rigdaq) touch /etc/rigdaq/x; systemd-analyze security rigdaq | tail -1"
step "commands of its user are done by it: a study is made, a backup written" \
  "as_ study make fan --material Alder=PLA --condition 'fan on' --setting 200 --setting 220 --prints 2 --specimens 2; as_ study list; as_ backup --out /var/lib/rigdaq-files/monday; not as_ backup --out /srv/monday"
step "a control loop that hangs (all threads stopped) misses the watchdog: killed within 12 s, up again" \
  "p=\$(systemctl show -p MainPID --value rigdaq); kill -STOP \$p; until_ '[ \"\$(systemctl show -p NRestarts --value rigdaq)\" = 1 ]'; until_ 'systemctl is-active -q rigdaq'; until_ 'curl -fs http://127.0.0.1:8377/ -o /dev/null'; journalctl -u rigdaq -o short-iso | grep -i watchdog"
step "it is pinged: no watchdog strikes in 25 s of rest" \
  "sleep 25; systemctl show -p NRestarts --value rigdaq | grep -qx 1"
step "kill -9: up again" \
  "systemctl kill -s KILL rigdaq; until_ '[ \"\$(systemctl show -p NRestarts --value rigdaq)\" = 2 ]'; until_ 'systemctl is-active -q rigdaq'"
step "upgrade: stopped in order, the new one runs, the configuration and the study are still there" \
  "dpkg -i /new.deb; until_ 'systemctl is-active -q rigdaq'; dpkg-query -W rigdaq; grep -q ttyACM0 /etc/rigdaq/rigdaq.json; as_ study list | grep fan"
step "the manual and the completions are there" \
  "zcat /usr/share/man/man1/rigdaq.1.gz | head -1; ls /usr/share/bash-completion/completions/rigdaq /usr/share/zsh/vendor-completions/_rigdaq /usr/share/fish/vendor_completions.d/rigdaq.fish"
step "stop: in order, with 0" \
  "systemctl stop rigdaq; systemctl show -p Result -p ExecMainStatus rigdaq | tee /dev/stderr | grep -q ExecMainStatus=0"
step "remove: the program and the service are gone, configuration and data stay" \
  "systemctl start rigdaq; dpkg -r rigdaq; not pgrep -x rigdaq; test ! -e /usr/bin/rigdaq; test ! -e /usr/lib/rigdaq; test -e /etc/rigdaq/rigdaq.json; ls -A /var/lib/rigdaq | tr '\n' ' '"
step "purge: the configuration is gone, what was measured stays and that is said" \
  "dpkg -P rigdaq; test ! -e /etc/rigdaq; test -d /var/lib/rigdaq; not systemctl cat rigdaq; find /etc/systemd /var/lib/systemd -name '*rigdaq*' > /left; cat /left; test ! -s /left"
printf '%s of %s steps as they should be\n' "$good" "$((good + bad))" >&3
inside systemctl poweroff >/dev/null 2>&1 || true
[ "$bad" = 0 ]
