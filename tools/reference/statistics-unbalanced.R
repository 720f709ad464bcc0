# Reference values for tests/RigDaq.Core.Tests/Statistics/UnbalancedPrintsTest.cs, by R 4.2: random strengths (invented), unbalanced, several
# prints a group and one group with a single print; the definitions of docs/statistics.md written out a second time.
# Run: Rscript tools/reference/statistics-unbalanced.R   (writes the table rnd.csv and the figures rnd.out into the working folder)
set.seed(5); options(digits=15)
rows <- list()
for (s in c(200,220)) for (c in c("off","on","half")) { np <- sample(2:4,1); if (c=="half" && s==220) np <- 1
 for (p in 1:np) { n <- sample(1:6,1); if(np==1) n<-5; m <- rnorm(1, 40+(c=="on")*3, 1.5); rows[[length(rows)+1]] <- data.frame(material="Alder",condition=c,setting=s,print=paste0("p",p),strength_MPa=round(rnorm(n,m,2),2)) } }
d <- do.call(rbind, rows); write.csv(d,"rnd.csv",row.names=FALSE,quote=FALSE)
d$g <- paste(d$condition,d$setting)
pm <- aggregate(strength_MPa~print+g+condition+setting,d,mean); np <- table(pm$g); multi <- names(np)[np>=2]
# Relative pooling: c2 over the groups' print means; a print that holds several settings brings its degree of freedom once (prints of a condition less one)
c2 <- sum(sapply(multi,function(g) sum((pm$strength_MPa[pm$g==g]/mean(pm$strength_MPa[pm$g==g])-1)^2)))/sum(np[multi]-1)
df <- sum(sapply(unique(pm$condition[pm$g %in% multi]),function(c) length(unique(pm$print[pm$g %in% multi & pm$condition==c]))-1))
# One print against several: the table's mean of print means, with the specimens' scatter within prints
one <- function(g) { x<-d$strength_MPa[d$g==g]; p<-d$print[d$g==g]; k<-length(unique(p)); n<-table(p); nu<-length(x)-k; w<-sum((x-ave(x,p))^2)/nu; list(m=mean(tapply(x,p,mean)),v=w*sum(1/n)/k^2,nu=nu) }
pv <- c(); out <- list()
for (s in c(200,220)) for (c in c("on","half")) { b <- paste(c,s); a <- paste("off",s)
 if (all(c(a,b) %in% multi)) { mb<-mean(pm$strength_MPa[pm$g==b]); ma<-mean(pm$strength_MPa[pm$g==a]); vb<-mb^2*c2/np[b]; va<-ma^2*c2/np[a]; dfd<-df; f<-function(th) df; me<-"prints" }
 else { ob<-one(b); oa<-one(a); mb<-ob$m; ma<-oa$m; vb<-ob$v; va<-oa$v; f<-function(th) (vb+th^2*va)^2/(vb^2/ob$nu+th^4*va^2/oa$nu); dfd<-f(1); me<-"welch"}
 t<-(mb-ma)/sqrt(vb+va); p<-2*pt(-abs(t),dfd); pv<-c(pv,p); q<-qt(.975,dfd)
 r<-mb/ma; qf<-qt(.975,f(r)); F<-function(th)(mb-th*ma)^2-qf^2*(vb+th^2*va)
 tl<-(mb-.95*ma)/sqrt(vb+.95^2*va); th<-(mb-1.05*ma)/sqrt(vb+1.05^2*va)
 pe<-max(pt(tl,f(.95),lower.tail=FALSE),pt(th,f(1.05)))
 out[[length(out)+1]]<-c(mb-ma,mb-ma-q*sqrt(vb+va),mb-ma+q*sqrt(vb+va),100*(uniroot(F,c(r-1,r),tol=1e-14)$root-1),100*(uniroot(F,c(r,r+1),tol=1e-14)$root-1),t,dfd,p,pe) }
o<-do.call(rbind,out); o<-cbind(o,p.adjust(pv,"holm")); write.table(format(o,digits=15),"rnd.out",row.names=FALSE,col.names=FALSE,quote=FALSE)
