# The variance components of tables whose scatter is so unequal that an optimiser loses digits: the restricted likelihood in 60
# decimal digits, and Newton's method on it with differences of 1e-18. Python 3.11 and nothing else.
# For tests/RigDaq.Core.Tests/Statistics/Mixed/exact: two materials, two conditions, four settings, three prints, six specimens a
# stretch (in the last table 200 of the first print, one of the others); prints 3 %, stretches 1.5 %, specimens as the name says.
# Invented strengths.
# R 4.2's lme4 ends 6e-5 and 2e-4 of all variance away from the optimum where specimens scatter by 1e-5 (2e-6 at 1e-4): there its
# likelihood is 7e-8 below the best, as near as its optimiser sees.
# Run: python3 tools/reference/reml-exact.py tests/RigDaq.Core.Tests/Statistics/Mixed/exact
# Writes the tables and components.csv (print, stretch, specimen).
import csv, math, os, random, sys
from decimal import Decimal as D, getcontext
getcontext().prec=60
def load(f):
    fam={}
    for r in csv.DictReader(open(f)):
        y=D(r['strength_MPa']).ln()
        fam.setdefault((r['material'],r['condition']),{}).setdefault((r['print'],r['setting']),[]).append(y)
    out=[]; ssw=D(0); dfw=0
    for k,st in fam.items():
        groups=sorted({s for p,s in st}); prints=sorted({p for p,s in st}); L=[]
        for p in prints:
            row=[]
            for s in groups:
                if (p,s) in st:
                    v=st[(p,s)]; m=sum(v)/len(v); ssw+=sum((x-m)**2 for x in v); dfw+=len(v)-1
                    row.append((groups.index(s),len(v),m))
            L.append(row)
        out.append((len(groups),L))
    return out,ssw,dfw
def chol(A):
    n=len(A); L=[[D(0)]*n for _ in range(n)]
    for i in range(n):
        for j in range(i+1):
            s=A[i][j]-sum(L[i][k]*L[j][k] for k in range(j))
            L[i][j]=s.sqrt() if i==j else s/L[j][j]
    return L
def dev(fams,ssw,dfw,v):
    vp,vs,ve=v
    d=dfw*ve.ln()+ssw/ve
    for ng,prints in fams:
        A=[[D(0)]*ng for _ in range(ng)]; b=[D(0)]*ng; yy=D(0)
        for row in prints:
            u=[1/(vs+ve/n) for g,n,m in row]; S=sum(u); k=vp/(1+vp*S)
            d+=sum((vs+ve/n).ln() for g,n,m in row)+(1+vp*S).ln()
            uy=sum(a*m for a,(g,n,m) in zip(u,row))
            for i,(g,n,m) in enumerate(row):
                w=u[i]*(m-k*uy); b[g]+=w; yy+=m*w
                for j,(g2,_,_) in enumerate(row): A[g][g2]+=(u[i] if i==j else 0)-k*u[i]*u[j]
        L=chol(A); d+=2*sum(L[i][i].ln() for i in range(ng))
        z=[]
        for i in range(ng): z.append((b[i]-sum(L[i][k]*z[k] for k in range(i)))/L[i][i])
        d+=yy-sum(x*x for x in z)
    return d

def newton(data,v0):
    x=[a.ln() for a in v0]; h=D('1e-18'); f=lambda x: dev(*data,[a.exp() for a in x])
    for it in range(60):
        f0=f(x); g=[];H=[[0]*3 for _ in range(3)]
        e=lambda i,s:[x[k]+(s if k==i else 0) for k in range(3)]
        P=[f(e(i,h)) for i in range(3)];M=[f(e(i,-h)) for i in range(3)]
        g=[(P[i]-M[i])/(2*h) for i in range(3)]
        for i in range(3):
            H[i][i]=(P[i]-2*f0+M[i])/h/h
            for j in range(i):
                y=list(x);y[i]+=h;y[j]+=h;z=list(x);z[i]-=h;z[j]-=h
                H[i][j]=H[j][i]=(f(y)+f(z)-P[i]-P[j]-M[i]-M[j]+2*f0)/2/h/h
        # solve
        A=[H[i][:]+[-g[i]] for i in range(3)]
        for i in range(3):
            for j in range(i+1,3):
                q=A[j][i]/A[i][i]
                for k in range(i,4):A[j][k]-=q*A[i][k]
        s=[D(0)]*3
        for i in (2,1,0): s[i]=(A[i][3]-sum(A[i][k]*s[k] for k in range(i+1,3)))/A[i][i]
        x=[a+b for a,b in zip(x,s)]
        if max(abs(a) for a in s)<D('1e-15'): break
    return [a.exp() for a in x],it

def make(name, seed, specimens, count):
    r = random.Random(seed); path = os.path.join(sys.argv[1], name + '.csv')
    with open(path, 'w', newline='\n') as f:
        f.write('material,condition,setting,print,strength_MPa\n')
        for m in ('Alder', 'Birch'):
            for c in ('on', 'off'):
                for p in range(1, 4):
                    u = r.gauss(0, .03)
                    for k, s in enumerate((200, 210, 220, 230)):
                        v = r.gauss(0, .015)
                        for _ in range(count(p)): f.write(f'{m},{c},{s},{m} {c} {p},{30 * math.exp(u + v - .02 * k + r.gauss(0, specimens)):.12g}\n')
    return path

os.makedirs(sys.argv[1], exist_ok=True)
with open(os.path.join(sys.argv[1], 'components.csv'), 'w', newline='\n') as out:
    out.write('table,print,stretch,specimen\n')
    for i, s in enumerate((1e-5, 1e-5, 1e-4, 1e-6, .06, .06)):
        name = f'specimens-{s:g}-{i + 1}'
        count = (lambda p: 200 if p == 1 else 1) if i == 5 else lambda p: 6
        v, _ = newton(load(make(name, i + 1, s, count)), [D('9e-4'), D('2e-4'), D(repr(s)) ** 2])
        out.write(name + ',' + ','.join('%.17e' % a for a in v) + '\n')
