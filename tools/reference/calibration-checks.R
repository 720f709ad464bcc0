# Values that the tests of the calibration hold against R. Run: Rscript tools/reference/calibration-checks.R (recorded with R 4.2.2, Debian r-base-core).
cat(R.version.string,"\n"); options(digits=15)
for(p in c(.975,.995)) for(v in c(1,2,5,10.5,16.7,30)) cat(p,v,qt(p,v),"\n")
cat(qnorm(.975),"\n")
t<-c(21.521,22.012,22.512,23.003,23.507,23.999,24.513,25.002,25.503,26.010,26.511); b<-c(-.171,-.169,-.166,-.159,-.164,-.165,-.156,-.157,-.159,-.161,-.160)
m<-lm(b~I(t-20)); print(coef(m)); print(vcov(m)); print(summary(m)$sigma); print(summary(m)$coef)
v<-vcov(m); cat("r",v[1,2]/sqrt(v[1,1]*v[2,2]),"\n"); cat("u30",sqrt(v[1,1]+100*v[2,2]+20*v[1,2]), coef(m)[1]+10*coef(m)[2],"\n")
# line without constant with cubic for our sample
x<-c(20003,40010,60018,80030,100041,20001,40011,60015,80032,100045); f<-rep(c(20,40,60,80,100),2)
for(d in 1:3){ m<-lm(f~0+poly(x,d,raw=TRUE)); print(summary(m)$coef); print(summary(m)$sigma); print(summary(m)$r.squared)}
